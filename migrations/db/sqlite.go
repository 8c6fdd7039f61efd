package db

import (
	"context"
	"database/sql"
	"errors"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"strings"

	"drawbar/booking/fault"

	"github.com/libtnb/sqlite"
)

// sqliteOptions make the embedded engine behave like the other one:
// immediate transactions (a read followed by a write cannot lose a race),
// enforced references, a write-ahead log that is synced at every commit, and
// times in UTC whose text sorts in the order of time.
var sqliteOptions = url.Values{
	"_txlock":   {"immediate"},
	"_timezone": {"UTC"},
	"_pragma": {
		"busy_timeout(10000)",
		"foreign_keys(1)",
		"journal_mode(WAL)",
		"synchronous(FULL)",
	},
}

// sqliteConns is enough for readers on a small machine; writers queue anyway.
const sqliteConns = 8

func openSQLite(ctx context.Context, path string) (*DB, error) {
	if err := prepareFile(path); err != nil {
		return nil, err
	}
	dsn, err := sqliteDSN(path)
	if err != nil {
		return nil, err
	}
	pool, err := sql.Open(sqlite.DriverName, dsn)
	if err != nil {
		return nil, err
	}
	pool.SetMaxOpenConns(sqliteConns)
	pool.SetMaxIdleConns(sqliteConns)
	d, err := wrap(ctx, SQLite, path, pool, sqlite.New(sqlite.Config{Conn: pool}))
	if err != nil {
		return nil, fault.Wrap(fault.Invalid, err, "The database file "+path+" cannot be used; check that it is a Drawbar database and that you may write to it.")
	}
	return d, nil
}

// prepareFile makes a new database file that only its owner can read: it
// will hold addresses and invoices. The write-ahead log takes over its mode.
func prepareFile(path string) error {
	if path == "" || strings.Contains(path, ":memory:") {
		return fault.New(fault.Invalid, "Give the path of a database file, for example drawbar.db; a database in memory would be lost.")
	}
	file, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fault.Wrap(fault.Invalid, err, "The database file "+path+" cannot be made because its folder is not there; make the folder first.")
	case err != nil:
		return fault.Wrap(fault.Invalid, err, "The database file "+path+" cannot be opened; check that it is a file and that you may write to it.")
	}
	return file.Close()
}

// sqliteDSN writes the path as a URI, so that ?, # and % in it stay part of
// the name. The three time parameters are what the dialect would add itself.
func sqliteDSN(path string) (string, error) {
	full, err := filepath.Abs(path)
	if err != nil {
		return "", err
	}
	query := url.Values{"_texttotime": {"1"}, "_inttotime": {"1"}, "_time_format": {"sqlite"}}
	for name, values := range sqliteOptions {
		query[name] = values
	}
	uri := url.URL{Scheme: "file", Path: filepath.ToSlash(full), RawQuery: query.Encode()}
	return uri.String(), nil
}
