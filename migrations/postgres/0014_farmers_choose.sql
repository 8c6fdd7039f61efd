-- +goose Up
-- Whether farmers that were visited before may take a day themselves.
ALTER TABLE business ADD COLUMN farmers_choose BOOLEAN NOT NULL DEFAULT FALSE;

-- +goose Down
ALTER TABLE business DROP COLUMN farmers_choose;
