-- +goose Up
-- Whether a rig has to stand at home on a day off, from the evening before on.
ALTER TABLE days_off ADD COLUMN needed BOOLEAN NOT NULL DEFAULT FALSE;

-- +goose Down
ALTER TABLE days_off DROP COLUMN needed;
