// Package noticetest receives mails in tests: a server on this machine that
// speaks as much SMTP (RFC 5321) as it takes, and hands each mail over as
// text.
package noticetest
