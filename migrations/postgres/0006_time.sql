-- +goose Up
-- Base values of the time model that the business has put in place of those
-- the program starts with. The id is service/animals.
CREATE TABLE base_times (
    id      TEXT PRIMARY KEY,
    code    TEXT NOT NULL,
    covers  TEXT NOT NULL,
    seconds DOUBLE PRECISION NOT NULL,
    spread  DOUBLE PRECISION NOT NULL,
    origin  TEXT NOT NULL,
    source  TEXT NOT NULL,
    entered TEXT NOT NULL,
    version INTEGER NOT NULL
);

-- What each signed docket says about time, taken from it once it is signed and
-- again when it is settled: packing down comes after signing.
CREATE TABLE timings (
    docket_id TEXT PRIMARY KEY REFERENCES dockets (id),
    job       TEXT NOT NULL,
    work      DOUBLE PRECISION NOT NULL,
    set_up    DOUBLE PRECISION NOT NULL,
    pack_down DOUBLE PRECISION NOT NULL,
    settled   BOOLEAN NOT NULL
);

-- What the dockets have taught, newest version last; only a few are kept.
CREATE TABLE pace_models (
    version INTEGER PRIMARY KEY,
    made    BIGINT NOT NULL,
    basis   TEXT NOT NULL,
    dockets INTEGER NOT NULL,
    learned TEXT NOT NULL,
    looks   TEXT NOT NULL
);

-- +goose Down
DROP TABLE pace_models;
DROP TABLE timings;
DROP TABLE base_times;
