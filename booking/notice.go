package booking

// Notice is a message to somebody, stored with the change it tells of and
// sent afterwards, so none is lost and none is sent for a change that failed.
type Notice struct {
	ID      ID
	To      string // mail address
	ToName  string
	Subject string
	Body    string // plain text
	Tries   int    // how often it could not be sent
}
