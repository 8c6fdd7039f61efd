package noticetest_test

import (
	"net"
	"net/smtp"
	"strings"
	"testing"

	"drawbar/booking/notice/noticetest"
)

// The standard library's client gets a mail through, and its refusal.
func TestServerReceives(t *testing.T) {
	address, mails := noticetest.Server(t)
	host := strings.TrimPrefix(address, "smtp://")
	text := "Subject: Your day\r\n\r\n.Tuesday\r\n"
	if err := smtp.SendMail(host, nil, "a@farm.example", []string{"b@farm.example"}, []byte(text)); err != nil {
		t.Fatal(err)
	}
	if got := <-mails; got != text {
		t.Errorf("got %q", got)
	}
	if err := smtp.SendMail(host, nil, "a@farm.example", []string{"nobody@farm.example"}, []byte(text)); err == nil {
		t.Error("nobody got it")
	}
	if _, err := net.Dial("tcp", host); err != nil {
		t.Errorf("the server is gone: %v", err)
	}
}
