package booking

import "context"

// Actor is who does something: a signed-in person, a farmer through a link,
// or the program itself.
type Actor struct {
	Kind ActorKind
	ID   ID // the person, or the farm
	Name string
}

// ActorKind says how somebody got in.
type ActorKind string

// The kinds of actor.
const (
	ByPerson  ActorKind = "person"
	ByFarmer  ActorKind = "farmer"
	ByProgram ActorKind = "program"
)

type actorKey struct{}

// As marks the context with who acts; stores write it into each Change.
func As(ctx context.Context, who Actor) context.Context {
	return context.WithValue(ctx, actorKey{}, who)
}

// ActorOf is who acts, the program where nobody was named.
func ActorOf(ctx context.Context) Actor {
	if who, ok := ctx.Value(actorKey{}).(Actor); ok {
		return who
	}
	return Actor{Kind: ByProgram, Name: "Drawbar"}
}
