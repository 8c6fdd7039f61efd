package round

import "drawbar/routing/round/internal/search"

// Compile lets tests look at a problem as the engines see it.
func Compile(p *Problem) *search.Model { return compile(p).m }
