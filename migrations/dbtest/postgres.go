package dbtest

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"strings"
	"sync"
	"testing"

	"drawbar/migrations"
	"drawbar/migrations/db"

	"github.com/jackc/pgx/v5"
)

// ServerVariable names the environment variable that holds the address of a
// PostgreSQL server on which the tests may make and drop databases.
const ServerVariable = "DRAWBAR_TEST_POSTGRES"

// Postgres opens a fresh database with the newest schema.
func Postgres(t testing.TB) *db.DB {
	t.Helper()
	server := server(t)
	template, err := postgresTemplate()
	if err != nil {
		t.Fatalf("making the PostgreSQL template: %v", err)
	}
	return openPostgres(t, server, template)
}

// EmptyPostgres opens a fresh database without any table.
func EmptyPostgres(t testing.TB) *db.DB {
	t.Helper()
	return openPostgres(t, server(t), "template0")
}

func server(t testing.TB) string {
	t.Helper()
	address := os.Getenv(ServerVariable)
	if address == "" {
		t.Fatalf("%s is not set, so there is no PostgreSQL server to test on. Run `make test`, or `.ci/with-postgres go test PACKAGE`.", ServerVariable)
	}
	return address
}

// openPostgres makes a database as a copy of a template, and drops it when
// the test ends.
func openPostgres(t testing.TB, server, template string) *db.DB {
	t.Helper()
	name := "drawbar_test_" + strings.ToLower(rand.Text())
	statement := fmt.Sprintf("CREATE DATABASE %s TEMPLATE %s", name, template)
	if err := command(context.Background(), server, statement); err != nil {
		t.Fatalf("making a test database: %v", err)
	}
	t.Cleanup(func() {
		if err := command(context.Background(), server, "DROP DATABASE "+name+" WITH (FORCE)"); err != nil {
			t.Errorf("dropping a test database: %v", err)
		}
	})
	dsn, err := on(server, name)
	if err != nil {
		t.Fatal(err)
	}
	return open(t, dsn)
}

// command runs one statement on the server, outside any pool.
func command(ctx context.Context, server, statement string) error {
	conn, err := pgx.Connect(ctx, server)
	if err != nil {
		return err
	}
	defer conn.Close(ctx)
	_, err = conn.Exec(ctx, statement)
	return err
}

// on is the server's address with another database name.
func on(server, name string) (string, error) {
	address, err := url.Parse(server)
	if err != nil {
		return "", fmt.Errorf("%s is not an address: %w", ServerVariable, err)
	}
	address.Path = "/" + name
	return address.String(), nil
}

// postgresTemplate is the name of a migrated database. Test binaries of one
// run share it: its name is made of the schema's bytes, and a lock of the
// server lets one binary make it while the others wait.
var postgresTemplate = sync.OnceValues(func() (string, error) {
	ctx, server := context.Background(), os.Getenv(ServerVariable)
	name, err := templateName()
	if err != nil {
		return "", err
	}
	conn, err := pgx.Connect(ctx, server)
	if err != nil {
		return "", err
	}
	defer conn.Close(ctx) // also lets go of the lock
	if _, err := conn.Exec(ctx, "SELECT pg_advisory_lock(hashtext($1))", name); err != nil {
		return "", err
	}
	var made bool
	err = conn.QueryRow(ctx, "SELECT EXISTS (SELECT FROM pg_database WHERE datname = $1)", name).Scan(&made)
	if err != nil || made {
		return name, err
	}
	return name, makeTemplate(ctx, conn, server, name)
})

// makeTemplate migrates under a passing name, so that a database that bears
// the template's name is always complete.
func makeTemplate(ctx context.Context, conn *pgx.Conn, server, name string) error {
	draft := name + "_draft"
	for _, statement := range []string{"DROP DATABASE IF EXISTS " + draft + " WITH (FORCE)", "CREATE DATABASE " + draft + " TEMPLATE template0"} {
		if _, err := conn.Exec(ctx, statement); err != nil {
			return err
		}
	}
	dsn, err := on(server, draft)
	if err != nil {
		return err
	}
	if err := migrate(ctx, dsn); err != nil {
		return err
	}
	_, err = conn.Exec(ctx, "ALTER DATABASE "+draft+" RENAME TO "+name)
	return err
}

func templateName() (string, error) {
	schema, err := migrations.Files(db.Postgres)
	if err != nil {
		return "", err
	}
	names, err := fs.Glob(schema, "*.sql")
	if err != nil {
		return "", err
	}
	sum := sha256.New()
	for _, name := range names {
		text, err := fs.ReadFile(schema, name)
		if err != nil {
			return "", err
		}
		fmt.Fprintf(sum, "%s %d\n%s", name, len(text), text)
	}
	return "drawbar_template_" + hex.EncodeToString(sum.Sum(nil)[:8]), nil
}
