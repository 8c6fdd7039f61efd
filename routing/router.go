package routing

import "context"

// Router makes tables for one rig. Legs it cannot drive are in the table as not
// reachable; an error means that there is no table at all, for instance
// because the context ended.
type Router interface {
	Table(ctx context.Context, places []Place, p Profile) (*Table, error)
	// WhyNot says in a sentence why one cannot drive from one place to another
	// or why that drive is only estimated; "" where it is driven on roads, and
	// where there is no map to tell.
	WhyNot(p Profile, from, to Place) string
}
