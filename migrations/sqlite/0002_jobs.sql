-- +goose Up
-- What phones recorded, each event once, by the id the phone gave it.
CREATE TABLE events (
    id       TEXT PRIMARY KEY,
    visit_id TEXT NOT NULL REFERENCES visits (id),
    device   TEXT NOT NULL,
    person   TEXT NOT NULL,
    seq      BIGINT NOT NULL,
    at       BIGINT NOT NULL,
    received BIGINT NOT NULL,
    kind     TEXT NOT NULL,
    what     TEXT NOT NULL,
    late     BOOLEAN NOT NULL
);
CREATE INDEX events_visit ON events (visit_id, at);

-- Signed dockets. The sealed text and its hash never change; a correction is
-- a later docket that supersedes.
CREATE TABLE dockets (
    id         TEXT PRIMARY KEY,
    visit_id   TEXT NOT NULL REFERENCES visits (id),
    farm_id    TEXT NOT NULL REFERENCES farms (id),
    day        TEXT NOT NULL,
    signed     BIGINT NOT NULL,
    sealed     TEXT NOT NULL,
    hash       TEXT NOT NULL,
    superseded TEXT NOT NULL DEFAULT ''
);
CREATE UNIQUE INDEX dockets_standing ON dockets (visit_id) WHERE superseded = '';
CREATE INDEX dockets_day ON dockets (day);
CREATE INDEX dockets_farm ON dockets (farm_id);
-- +goose StatementBegin
CREATE TRIGGER dockets_no_update BEFORE UPDATE ON dockets
WHEN NEW.sealed <> OLD.sealed OR NEW.hash <> OLD.hash OR OLD.superseded <> ''
BEGIN
    SELECT RAISE(ABORT, 'a signed docket never changes; correct it with another');
END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER dockets_no_delete BEFORE DELETE ON dockets
BEGIN
    SELECT RAISE(ABORT, 'a signed docket never changes; correct it with another');
END;
-- +goose StatementEnd

-- +goose Down
DROP TABLE dockets;
DROP TABLE events;
