package roadmap

import (
	"net/http"
	"strconv"

	"drawbar/booking/fault"
	"drawbar/routing/road/tile"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

// Mount serves the tiles to those whom the group lets in.
func (a *Atlas) Mount(r gin.IRouter) {
	r.GET("/roads/:version/:z/:x/:y", view.Handle(a.tile))
}

// tile answers with one vector tile, an empty one with 204. An address of
// another road file, from a page left open, gets the present roads, which are
// not kept.
func (a *Atlas) tile(c *gin.Context) error {
	key := c.Param("z") + "/" + c.Param("x") + "/" + c.Param("y")
	data, err := a.vector(key, c.Param("z"), c.Param("x"), c.Param("y"))
	if err != nil {
		return err
	}
	c.Header("Cache-Control", "no-store")
	if c.Param("version") == a.version {
		c.Header("Cache-Control", "private, max-age=604800, immutable")
	}
	if len(data) == 0 {
		c.Status(http.StatusNoContent)
		return nil
	}
	c.Data(http.StatusOK, "application/vnd.mapbox-vector-tile", data)
	return nil
}

func (a *Atlas) vector(key string, zxy ...string) ([]byte, error) {
	if data, ok := a.tiles.look(key); ok {
		return data, nil
	}
	var n [3]int
	for i, text := range zxy {
		var err error
		if n[i], err = strconv.Atoi(text); err != nil || strconv.Itoa(n[i]) != text || a.roads == nil {
			return nil, fault.New(fault.NotFound, "There is no such map tile.")
		}
	}
	data, err := tile.Vector(a.roads, n[0], n[1], n[2])
	if err == nil {
		a.tiles.put(key, data)
	}
	return data, err
}
