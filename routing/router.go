package routing

import "context"

// Router makes tables. Legs it cannot drive are in the table as not
// reachable; an error means that there is no table at all, for instance
// because the context ended.
type Router interface {
	Table(ctx context.Context, places []Place, p Profile) (*Table, error)
}
