package noticetest

import (
	"bufio"
	"fmt"
	"net"
	"strings"
	"testing"
)

// Server listens until the test ends and gives its smtp:// address and the
// mails it receives. It refuses receivers whose name is "nobody".
func Server(t testing.TB) (address string, mails chan string) {
	t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { listener.Close() })
	mails = make(chan string, 100)
	go func() {
		for {
			conn, err := listener.Accept()
			if err != nil {
				return
			}
			go receive(conn, mails)
		}
	}()
	return "smtp://" + listener.Addr().String(), mails
}

func receive(conn net.Conn, mails chan string) {
	defer conn.Close()
	in := bufio.NewReader(conn)
	say := func(text string) { fmt.Fprintf(conn, "%s\r\n", text) }
	say("220 mail.example")
	for {
		line, err := in.ReadString('\n')
		if err != nil {
			return
		}
		switch verb := strings.ToUpper(line[:min(4, len(line))]); {
		case verb == "DATA":
			say("354 go on")
			mails <- readData(in)
			say("250 taken")
		case verb == "QUIT":
			say("221 bye")
			return
		case verb == "RCPT" && strings.Contains(line, "nobody@"):
			say("550 no such mailbox")
		default:
			say("250 mail.example")
		}
	}
}

func readData(in *bufio.Reader) string {
	var text strings.Builder
	for {
		line, err := in.ReadString('\n')
		if err != nil || line == ".\r\n" {
			return text.String()
		}
		text.WriteString(strings.TrimPrefix(line, "."))
	}
}
