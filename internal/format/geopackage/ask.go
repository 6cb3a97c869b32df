package geopackage

import (
	"context"
	"database/sql"
	"fmt"
	"time"

	"modernc.org/sqlite"
)

// longestPrepared is how long SQLite may run a statement before its first row. Our choice: our
// statements need a thousandth of it, and a hostile file must be refused within ten seconds.
const longestPrepared = 5 * time.Second

// onlyReading opens the only connection. It can read stored columns of tables and do nothing else,
// whatever the schema says: no views, no recursion, and no pragma except the one that lists a table's
// columns.
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

// allowed is SQLite's authorizer: it is asked about each action of a statement. within is the view or
// trigger that causes the action.
func allowed(action sqlite.AuthorizerActionCode, first, _, _, within string) sqlite.AuthorizerReturnCode {
	switch {
	case within != "":
	case action == sqlite.AuthSelect, action == sqlite.AuthRead, action == sqlite.AuthPragma && first == "table_info":
		return sqlite.AuthorizerOK
	case action == sqlite.AuthFunction: // in a column's default, such as today's date, which only new rows use
		return sqlite.AuthorizerOK
	}
	return sqlite.AuthorizerDeny
}

// ask runs a statement and returns its rows and a function that ends it. Until the first row, the
// driver checks the deadline every thousand steps (SQLite's progress handler); after that, each step is
// a row (see each).
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
