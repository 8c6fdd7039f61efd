-- +goose Up
CREATE TABLE sessions (
    token   TEXT PRIMARY KEY,
    data    BLOB NOT NULL,
    expires BIGINT NOT NULL
);
CREATE INDEX sessions_expires ON sessions (expires);

-- Who does what is due on a schedule: the first to write the row.
CREATE TABLE ticks (
    name TEXT NOT NULL,
    slot BIGINT NOT NULL,
    PRIMARY KEY (name, slot)
);

-- +goose Down
DROP TABLE ticks;
DROP TABLE sessions;
