-- +goose Up
-- Instants are integer milliseconds since 1970 UTC; calendar days are text YYYY-MM-DD.
CREATE TABLE business (
    one        INTEGER PRIMARY KEY CHECK (one = 1),
    name       TEXT NOT NULL,
    address    TEXT NOT NULL,
    email      TEXT NOT NULL,
    phone      TEXT NOT NULL,
    tax_id     TEXT NOT NULL,
    zone       TEXT NOT NULL,
    country    TEXT NOT NULL,
    currency   TEXT NOT NULL,
    home_name  TEXT NOT NULL,
    home_lon   REAL NOT NULL,
    home_lat   REAL NOT NULL,
    version    INTEGER NOT NULL
);

CREATE TABLE people (
    id            TEXT PRIMARY KEY,
    name          TEXT NOT NULL,
    email         TEXT NOT NULL,
    phone         TEXT NOT NULL,
    role          TEXT NOT NULL CHECK (role IN ('owner', 'office', 'operator')),
    skills        TEXT NOT NULL,
    active        BOOLEAN NOT NULL,
    password_hash TEXT NOT NULL DEFAULT '',
    version       INTEGER NOT NULL
);
CREATE UNIQUE INDEX people_email ON people (lower(email));

CREATE TABLE farms (
    id      TEXT PRIMARY KEY,
    name    TEXT NOT NULL,
    contact TEXT NOT NULL,
    email   TEXT NOT NULL,
    phone   TEXT NOT NULL,
    address TEXT NOT NULL,
    tax_id  TEXT NOT NULL,
    hygiene INTEGER NOT NULL CHECK (hygiene BETWEEN 0 AND 3),
    notes   TEXT NOT NULL,
    version INTEGER NOT NULL
);
CREATE INDEX farms_email ON farms (lower(email));

CREATE TABLE yards (
    id           TEXT PRIMARY KEY,
    farm_id      TEXT NOT NULL REFERENCES farms (id),
    name         TEXT NOT NULL,
    lon          REAL NOT NULL,
    lat          REAL NOT NULL,
    gate_width   REAL NOT NULL,
    train_length REAL NOT NULL,
    surface      TEXT NOT NULL,
    turning      BOOLEAN NOT NULL,
    lights       BOOLEAN NOT NULL,
    power        BOOLEAN NOT NULL,
    forks        BOOLEAN NOT NULL,
    helper       BOOLEAN NOT NULL,
    overnight    BOOLEAN NOT NULL,
    access       TEXT NOT NULL,
    version      INTEGER NOT NULL
);
CREATE INDEX yards_farm ON yards (farm_id);

CREATE TABLE rigs (
    id          TEXT PRIMARY KEY,
    name        TEXT NOT NULL UNIQUE,
    mount       TEXT NOT NULL CHECK (mount IN ('trailer', 'skid')),
    side_tilt   BOOLEAN NOT NULL,
    weigh_bars  BOOLEAN NOT NULL,
    tag_reader  BOOLEAN NOT NULL,
    sort_gates  INTEGER NOT NULL,
    race_places INTEGER NOT NULL,
    mass        INTEGER NOT NULL,
    length      REAL NOT NULL,
    width       REAL NOT NULL,
    height      REAL NOT NULL,
    crew        TEXT NOT NULL,
    workdays    TEXT NOT NULL,
    day_start   INTEGER NOT NULL,
    day_end     INTEGER NOT NULL,
    active      BOOLEAN NOT NULL,
    version     INTEGER NOT NULL
);

CREATE TABLE days_off (
    rig_id TEXT NOT NULL REFERENCES rigs (id),
    day    TEXT NOT NULL,
    reason TEXT NOT NULL,
    PRIMARY KEY (rig_id, day)
);

CREATE TABLE services (
    code       TEXT PRIMARY KEY,
    name       TEXT NOT NULL,
    side_tilt  BOOLEAN NOT NULL,
    weigh_bars BOOLEAN NOT NULL,
    tag_reader BOOLEAN NOT NULL,
    sort_gates INTEGER NOT NULL,
    skill      TEXT NOT NULL,
    scanning   BOOLEAN NOT NULL,
    advice     TEXT NOT NULL,
    offered    BOOLEAN NOT NULL,
    position   INTEGER NOT NULL,
    version    INTEGER NOT NULL
);

CREATE TABLE bookings (
    id        TEXT PRIMARY KEY,
    number    INTEGER NOT NULL UNIQUE,
    farm_id   TEXT NOT NULL REFERENCES farms (id),
    yard_id   TEXT NOT NULL REFERENCES yards (id),
    state     TEXT NOT NULL CHECK (state IN ('asked', 'offered', 'agreed', 'done', 'withdrawn')),
    windows   TEXT NOT NULL,
    note      TEXT NOT NULL,
    attention TEXT NOT NULL,
    created   BIGINT NOT NULL,
    version   INTEGER NOT NULL
);
CREATE INDEX bookings_farm ON bookings (farm_id);
CREATE INDEX bookings_state ON bookings (state);

CREATE TABLE mobs (
    id           TEXT PRIMARY KEY,
    booking_id   TEXT NOT NULL REFERENCES bookings (id),
    position     INTEGER NOT NULL,
    species      TEXT NOT NULL,
    class        TEXT NOT NULL,
    head         INTEGER NOT NULL CHECK (head > 0),
    mixed_sizes  BOOLEAN NOT NULL,
    horned       BOOLEAN NOT NULL,
    full_wool    BOOLEAN NOT NULL,
    new_to_crate BOOLEAN NOT NULL,
    at_foot      BOOLEAN NOT NULL,
    services     TEXT NOT NULL,
    males_in     TEXT NOT NULL,
    males_out    TEXT NOT NULL
);
CREATE INDEX mobs_booking ON mobs (booking_id, position);

CREATE TABLE visits (
    id         TEXT PRIMARY KEY,
    booking_id TEXT NOT NULL REFERENCES bookings (id),
    farm_id    TEXT NOT NULL REFERENCES farms (id),
    yard_id    TEXT NOT NULL REFERENCES yards (id),
    rig_id     TEXT NOT NULL REFERENCES rigs (id),
    day        TEXT NOT NULL,
    part       INTEGER NOT NULL,
    parts      INTEGER NOT NULL,
    head       INTEGER NOT NULL,
    state      TEXT NOT NULL CHECK (state IN ('pencilled', 'fixed', 'under way', 'signed off', 'called off')),
    starts_at  BIGINT NOT NULL,
    ends_at    BIGINT NOT NULL,
    set_up     BIGINT NOT NULL,
    work       BIGINT NOT NULL,
    work_long  BIGINT NOT NULL,
    pack_down  BIGINT NOT NULL,
    wash_down  BIGINT NOT NULL,
    overnight  BOOLEAN NOT NULL,
    version    INTEGER NOT NULL,
    CHECK (ends_at > starts_at)
);
CREATE INDEX visits_day ON visits (day);
CREATE INDEX visits_booking ON visits (booking_id);
CREATE INDEX visits_farm ON visits (farm_id);

-- A rig is at one yard at a time. Live visits of a rig never overlap, so only
-- the latest one that starts before the new one ends has to be looked at.
CREATE INDEX visits_rig_live ON visits (rig_id, starts_at, ends_at) WHERE state <> 'called off';
-- +goose StatementBegin
CREATE TRIGGER visits_one_rig_one_place_insert BEFORE INSERT ON visits
WHEN NEW.state <> 'called off'
BEGIN
    SELECT RAISE(ABORT, 'rig is already booked') WHERE (
        SELECT ends_at FROM visits
        WHERE rig_id = NEW.rig_id AND state <> 'called off' AND starts_at < NEW.ends_at AND id <> NEW.id
        ORDER BY starts_at DESC LIMIT 1) > NEW.starts_at;
END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER visits_one_rig_one_place_update BEFORE UPDATE OF rig_id, starts_at, ends_at, state ON visits
WHEN NEW.state <> 'called off'
BEGIN
    SELECT RAISE(ABORT, 'rig is already booked') WHERE (
        SELECT ends_at FROM visits
        WHERE rig_id = NEW.rig_id AND state <> 'called off' AND starts_at < NEW.ends_at AND id <> NEW.id
        ORDER BY starts_at DESC LIMIT 1) > NEW.starts_at;
END;
-- +goose StatementEnd

CREATE TABLE links (
    hash    TEXT PRIMARY KEY,
    purpose TEXT NOT NULL,
    subject TEXT NOT NULL,
    expires BIGINT NOT NULL,
    once    BOOLEAN NOT NULL,
    used    BIGINT NOT NULL DEFAULT 0,
    created BIGINT NOT NULL
);
CREATE INDEX links_subject ON links (subject);

-- Messages wait here, stored with the change they tell of, until they are sent.
CREATE TABLE notices (
    id       TEXT PRIMARY KEY,
    to_addr  TEXT NOT NULL,
    to_name  TEXT NOT NULL,
    subject  TEXT NOT NULL,
    body     TEXT NOT NULL,
    created  BIGINT NOT NULL,
    sent     BIGINT NOT NULL DEFAULT 0
);

CREATE TABLE changes (
    id         TEXT PRIMARY KEY,
    at         BIGINT NOT NULL,
    actor_kind TEXT NOT NULL,
    actor_id   TEXT NOT NULL,
    actor_name TEXT NOT NULL,
    verb       TEXT NOT NULL,
    kind       TEXT NOT NULL,
    subject    TEXT NOT NULL,
    detail     TEXT NOT NULL
);
CREATE INDEX changes_subject ON changes (kind, subject);
CREATE INDEX changes_at ON changes (at);

-- +goose Down
DROP TABLE changes;
DROP TABLE notices;
DROP TABLE links;
DROP TABLE visits;
DROP TABLE mobs;
DROP TABLE bookings;
DROP TABLE services;
DROP TABLE days_off;
DROP TABLE rigs;
DROP TABLE yards;
DROP TABLE farms;
DROP TABLE people;
DROP TABLE business;