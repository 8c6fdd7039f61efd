-- +goose Up
-- A search for a plan, worked by whichever process is free. beat is the last
-- sign of life of that process; a search without one is begun again.
CREATE TABLE plannings (
    id          TEXT PRIMARY KEY,
    state       TEXT NOT NULL CHECK (state IN ('waiting', 'searching', 'found', 'failed')),
    from_day    TEXT NOT NULL,
    to_day      TEXT NOT NULL,
    days        INTEGER NOT NULL,
    mend        BOOLEAN NOT NULL,
    seed        BIGINT NOT NULL,
    seconds     INTEGER NOT NULL,
    iterations  INTEGER NOT NULL,
    asked       BIGINT NOT NULL,
    actor_kind  TEXT NOT NULL,
    actor_id    TEXT NOT NULL,
    actor_name  TEXT NOT NULL,
    iteration   BIGINT NOT NULL,
    placed      INTEGER NOT NULL,
    of_visits   INTEGER NOT NULL,
    cost        BIGINT NOT NULL,
    beat        BIGINT NOT NULL,
    tries       INTEGER NOT NULL,
    stop        BOOLEAN NOT NULL,
    fingerprint TEXT NOT NULL,
    result      TEXT NOT NULL,
    trouble     TEXT NOT NULL,
    ended       BIGINT NOT NULL
);
CREATE INDEX plannings_asked ON plannings (asked);
CREATE INDEX plannings_open ON plannings (beat) WHERE state IN ('waiting', 'searching');

-- What was put into effect of a plan, with what it takes to undo it.
CREATE TABLE acceptances (
    id          TEXT PRIMARY KEY,
    planning_id TEXT NOT NULL REFERENCES plannings (id),
    at          BIGINT NOT NULL,
    actor_kind  TEXT NOT NULL,
    actor_id    TEXT NOT NULL,
    actor_name  TEXT NOT NULL,
    says        TEXT NOT NULL,
    units       TEXT NOT NULL,
    visits_before   TEXT NOT NULL,
    visits_after    TEXT NOT NULL,
    bookings_before TEXT NOT NULL,
    bookings_after  TEXT NOT NULL,
    undone      BIGINT NOT NULL DEFAULT 0
);
CREATE INDEX acceptances_at ON acceptances (at);

-- A rig may also go out later than usual: minutes after midnight, 0 = not at all.
ALTER TABLE days_off ADD COLUMN starts INTEGER NOT NULL DEFAULT 0;

-- +goose Down
ALTER TABLE days_off DROP COLUMN starts;
DROP TABLE acceptances;
DROP TABLE plannings;
