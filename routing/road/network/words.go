package network

// words name the classes as the OpenStreetMap wiki does.
var words = [Classes]string{
	"motorway", "trunk", "primary", "secondary", "tertiary", "unclassified",
	"residential", "living_street", "service", "driveway", "track", "ferry",
}

// String is the word for a class.
func (c Class) String() string {
	if c >= Classes {
		return "unknown"
	}
	return words[c]
}
