-- +goose Up
-- Whether farmers that were visited before may take a day themselves.
ALTER TABLE business ADD COLUMN farmers_choose INTEGER NOT NULL DEFAULT 0;

-- +goose Down
ALTER TABLE business DROP COLUMN farmers_choose;
