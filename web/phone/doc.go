// Package phone is the operator's side: today's round, and one visit a screen
// with big buttons. What is pressed becomes an event whose id is made on the
// phone; it is kept there before the screen moves on and sent when there is
// signal, so nothing counted is lost and a resend counts nothing twice.
//
// Without a script the same buttons are plain forms; each form carries its
// event's id, so a double press counts once.
package phone
