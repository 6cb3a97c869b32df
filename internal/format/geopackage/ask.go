package geopackage

import (
	"context"
	"database/sql"
	"fmt"
	"time"

	"modernc.org/sqlite"
)

// longestPrepared is how long SQLite may think about a statement before its first
// row. Our choice: ours take a thousandth of it, and a hostile file is to end within
// ten seconds.
const longestPrepared = 5 * time.Second

// onlyReading opens the one connection. It reads stored columns of tables and does
// nothing else, whatever the schema says: no view, no recursion, no other pragma than
// that for a table's columns.
func onlyReading(db *sql.DB) (*sql.Conn, error) {
	conn, err := db.Conn(context.Background())
	if err != nil {
		return nil, err
	}
	err = conn.Raw(func(driver any) error {
		c, ok := driver.(interface {
			RegisterAuthorizer(sqlite.AuthorizerFn) error
		})
		if !ok {
			return fmt.Errorf("the driver takes no authorizer")
		}
		return c.RegisterAuthorizer(allowed)
	})
	if err != nil {
		conn.Close()
		return nil, err
	}
	return conn, nil
}

// allowed is asked by SQLite about each thing that a statement would do; within is
// the view or trigger that asks for it.
func allowed(action sqlite.AuthorizerActionCode, first, _, _, within string) sqlite.AuthorizerReturnCode {
	switch {
	case within != "":
	case action == sqlite.AuthSelect, action == sqlite.AuthRead, action == sqlite.AuthPragma && first == "table_info":
		return sqlite.AuthorizerOK
	case action == sqlite.AuthFunction: // of a column's default, such as the day, which only new rows get
		return sqlite.AuthorizerOK
	}
	return sqlite.AuthorizerDeny
}

// ask begins a statement and returns its rows, and what ends it. The driver has
// SQLite look, every thousand steps, whether the time is over (its progress handler),
// until the first row is there; from then on each step is a row (each).
func (g *reader) ask(statement string) (*sql.Rows, func(), error) {
	late, cancel := context.WithCancelCause(context.Background())
	timer := time.AfterFunc(g.patience, func() {
		cancel(fmt.Errorf("it asks for more than %v of work", g.patience))
	})
	rows, err := g.conn.QueryContext(late, statement)
	if !timer.Stop() && context.Cause(late) != nil {
		err = context.Cause(late)
	}
	return rows, func() {
		if rows != nil {
			rows.Close()
		}
		cancel(nil)
	}, err
}
