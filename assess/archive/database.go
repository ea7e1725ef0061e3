package archive

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"net/url"
	"path/filepath"
	"strings"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

const (
	cantOpen = sqlite3.SQLITE_CANTOPEN
	readOnly = sqlite3.SQLITE_READONLY
)

// readers is how many may read at once; more only wait for the processor.
const readers = 4

// openDatabase opens a database file with SQLite's access mode: "rw" for the one
// writer, "ro" for readers. Nothing is read yet.
func openDatabase(path, access string, create bool) (*sql.DB, error) {
	slashed := filepath.ToSlash(path)
	if !strings.HasPrefix(slashed, "/") {
		slashed = "/" + slashed // a Windows path begins with its drive
	}
	query := "mode=" + access
	if create {
		query = "mode=rwc"
	}
	query += "&_defensive=1&_dqs=0&_pragma=busy_timeout(10000)&_pragma=foreign_keys(1)"
	writes := access == "rw"
	if writes {
		query += "&_txlock=immediate&_pragma=synchronous(FULL)"
	}
	name := url.URL{Scheme: "file", Path: slashed, RawQuery: query}
	inner, err := sqlite.NewConnector(name.String())
	if err != nil {
		return nil, err
	}
	db := sql.OpenDB(&connector{Connector: inner, writes: writes})
	if writes {
		db.SetMaxOpenConns(1)
	} else {
		db.SetMaxOpenConns(readers)
		db.SetMaxIdleConns(readers)
	}
	return db, nil
}

// connector makes connections that leave the log and the readers' shared file
// in place when they close: a user who can't write to the folder can read an
// archive that nobody has open only if they are there.
type connector struct {
	driver.Connector
	writes bool
}

func (c *connector) Connect(ctx context.Context) (driver.Conn, error) {
	conn, err := c.Connector.Connect(ctx)
	if err != nil || !c.writes {
		return conn, err
	}
	if control, ok := conn.(sqlite.FileControl); ok {
		if _, err := control.FileControlPersistWAL("main", 1); err != nil {
			_ = conn.Close()
			return nil, err
		}
	}
	return conn, nil
}
