// Package session knows who is asking: a person who signed in, or a farmer
// who came through a link and may see one farm's bookings only.
//
// Sessions live in the database, so any process may answer. The cookie is
// HttpOnly and SameSite=Lax, and Secure where the site is served over https.
// Signing in and out changes the session's token. A person who was made
// inactive is signed out at the next request.
package session
