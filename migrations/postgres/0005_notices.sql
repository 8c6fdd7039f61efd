-- +goose Up
-- Who sends a notice claims it by moving due; one that could not be sent is
-- due again later.
ALTER TABLE notices ADD COLUMN due BIGINT NOT NULL DEFAULT 0;
ALTER TABLE notices ADD COLUMN tries INTEGER NOT NULL DEFAULT 0;
ALTER TABLE notices ADD COLUMN trouble TEXT NOT NULL DEFAULT '';
CREATE INDEX notices_waiting ON notices (due) WHERE sent = 0;

-- +goose Down
DROP INDEX notices_waiting;
ALTER TABLE notices DROP COLUMN trouble;
ALTER TABLE notices DROP COLUMN tries;
ALTER TABLE notices DROP COLUMN due;
