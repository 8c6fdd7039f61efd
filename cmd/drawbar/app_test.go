package main

import (
	"context"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"regexp"
	"strings"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/notice/noticetest"
	"drawbar/booking/sample"
	"drawbar/migrations/db"
	"drawbar/migrations/dbtest"
)

var quietLog = slog.New(slog.DiscardHandler)

// openApp puts the program together on a test's database.
func openApp(t *testing.T, d *db.DB, mail string) *App {
	t.Helper()
	config := Config{Database: d.DSN(), URL: "http://drawbar.test", Mail: mail, MailFrom: "post@machine.example"}
	app, err := Open(context.Background(), config, time.Now, quietLog)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := app.Close(); err != nil {
			t.Error(err)
		}
	})
	return app
}

// started serves the app until stop is called, which tells how it ended.
func started(t *testing.T, app *App) (address string, stop func() error) {
	t.Helper()
	listener, err := listen("127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- app.ServeAndWork(ctx, listener) }()
	stopped := false
	stop = func() error {
		if stopped {
			return nil
		}
		stopped = true
		cancel()
		return <-ended
	}
	t.Cleanup(func() {
		if err := stop(); err != nil {
			t.Error(err)
		}
	})
	return "http://" + listener.Addr().String(), stop
}

func owner(t *testing.T, app *App) booking.Person {
	t.Helper()
	p := sample.Person(booking.Owner)
	if err := app.Store.SavePerson(context.Background(), &p); err != nil {
		t.Fatal(err)
	}
	return p
}

var signInLink = regexp.MustCompile(`http://drawbar\.test(/sign-in/[\w-]+)`)

// Asking for a link in the browser, getting it by mail, following it: the
// request, the store, the background work and the mail server together.
func TestALinkComesByMail(t *testing.T) {
	dbtest.Each(t, func(t *testing.T, d *db.DB) {
		mailServer, mails := noticetest.Server(t)
		app := openApp(t, d, mailServer)
		business, ann := sample.Business(), owner(t, app)
		if err := app.Store.SaveBusiness(context.Background(), &business); err != nil {
			t.Fatal(err)
		}
		address, stop := started(t, app)
		browser := newBrowser(t)
		browser.post(address+"/sign-in/mail", "email", ann.Email)

		mail := plain(<-mails)
		for _, want := range []string{"To: \"" + ann.Name, "From: \"" + business.Name, "<post@machine.example>", "Reply-To: \"" + business.Name} {
			if !strings.Contains(mail, want) {
				t.Errorf("the mail lacks %q:\n%s", want, mail)
			}
		}
		link := signInLink.FindStringSubmatch(mail)
		if link == nil {
			t.Fatalf("no link in\n%s", mail)
		}
		if r := browser.post(address + link[1]); !strings.HasPrefix(r.Request.URL.Path, "/week") || r.StatusCode != http.StatusOK {
			t.Errorf("the link leads to %s, %s", r.Request.URL, r.Status)
		}
		if err := stop(); err != nil {
			t.Errorf("stopping: %v", err)
		}
		if n, err := app.Store.CountUnsent(context.Background()); err != nil || n != 0 {
			t.Errorf("%d wait to be sent, %v", n, err)
		}
	})
}

// plain undoes the soft line breaks of quoted-printable (RFC 2045, 6.7).
func plain(mail string) string { return strings.ReplaceAll(mail, "=\r\n", "") }

type browser struct {
	t *testing.T
	*http.Client
}

func newBrowser(t *testing.T) browser {
	t.Helper()
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	return browser{t, &http.Client{Jar: jar}}
}

func (b browser) post(address string, pairs ...string) *http.Response {
	b.t.Helper()
	values := url.Values{}
	for i := 0; i < len(pairs); i += 2 {
		values.Set(pairs[i], pairs[i+1])
	}
	r, err := b.PostForm(address, values)
	if err != nil {
		b.t.Fatal(err)
	}
	b.t.Cleanup(func() { r.Body.Close() })
	return r
}

// A notice that was stored by a process that only serves is sent by one that
// only works.
func TestServingAndWorkingInTwoProcesses(t *testing.T) {
	dbtest.Each(t, func(t *testing.T, d *db.DB) {
		mailServer, mails := noticetest.Server(t)
		serving, working := openApp(t, d, mailServer), openApp(t, d, mailServer)
		ann := owner(t, serving)
		ctx, cancel := context.WithCancel(context.Background())
		ended := make(chan error, 1)
		go func() { ended <- working.work.run(ctx) }()
		if err := serving.Desk.MailSignIn(ctx, ann.Email); err != nil {
			t.Fatal(err)
		}
		if mail := <-mails; !strings.Contains(mail, ann.Email) {
			t.Errorf("got %s", mail)
		}
		cancel()
		if err := <-ended; err != nil {
			t.Error(err)
		}
	})
}

// A request that has begun is answered before the program ends. It is sent with
// Expect: 100-continue, so that its body is asked for only by who answers it
// (RFC 9110, section 10.1.1): before that, a server that stops may hang up.
func TestStoppingFinishesWhatHasBegun(t *testing.T) {
	app := openApp(t, dbtest.SQLite(t), t.TempDir())
	address, stop := started(t, app)
	body, rest := io.Pipe()
	begun := make(chan struct{})
	answered := make(chan error, 1)
	go func() {
		request, err := http.NewRequest(http.MethodPost, address+"/sign-in/mail", io.MultiReader(strings.NewReader("email=ann"), noting(begun), body))
		if err != nil {
			answered <- err
			return
		}
		request.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		request.Header.Set("Expect", "100-continue")
		r, err := (&http.Transport{ExpectContinueTimeout: time.Minute}).RoundTrip(request)
		if err == nil && r.StatusCode != http.StatusOK {
			err = fmt.Errorf("status %s", r.Status)
		}
		answered <- err
	}()
	<-begun
	ended := make(chan error, 1)
	go func() { ended <- stop() }()
	waitForRefusal(t, address)
	fmt.Fprint(rest, "%40coverdale.example")
	rest.Close()
	if err := <-answered; err != nil {
		t.Errorf("the request that had begun: %v", err)
	}
	if err := <-ended; err != nil {
		t.Errorf("the program ended with %v", err)
	}
}

// noting closes the channel when it is read.
func noting(begun chan struct{}) io.Reader {
	return readerFunc(func([]byte) (int, error) { close(begun); return 0, io.EOF })
}

type readerFunc func([]byte) (int, error)

func (f readerFunc) Read(p []byte) (int, error) { return f(p) }

// waitForRefusal returns when nobody is let in any more.
func waitForRefusal(t *testing.T, address string) {
	t.Helper()
	for deadline := time.Now().Add(20 * time.Second); time.Now().Before(deadline); {
		conn, err := net.Dial("tcp", strings.TrimPrefix(address, "http://"))
		if err != nil {
			return
		}
		conn.Close()
	}
	t.Fatal("the program does not stop")
}

func TestAnAddressThatIsTaken(t *testing.T) {
	taken, err := listen("127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer taken.Close()
	if _, err := listen(taken.Addr().String()); err == nil || !strings.Contains(says(err), "--listen") {
		t.Errorf("taken twice: %v", err)
	}
}
