-- +goose Up
-- What rounds cost to run, in minor units; all zero = usual costs.
ALTER TABLE business ADD COLUMN running_hour INTEGER NOT NULL DEFAULT 0;
ALTER TABLE business ADD COLUMN running_overtime INTEGER NOT NULL DEFAULT 0;
ALTER TABLE business ADD COLUMN running_km INTEGER NOT NULL DEFAULT 0;
ALTER TABLE business ADD COLUMN running_solo_km INTEGER NOT NULL DEFAULT 0;
ALTER TABLE business ADD COLUMN running_turn_out INTEGER NOT NULL DEFAULT 0;
ALTER TABLE business ADD COLUMN running_lodging INTEGER NOT NULL DEFAULT 0;

-- +goose Down
ALTER TABLE business DROP COLUMN running_lodging;
ALTER TABLE business DROP COLUMN running_turn_out;
ALTER TABLE business DROP COLUMN running_solo_km;
ALTER TABLE business DROP COLUMN running_km;
ALTER TABLE business DROP COLUMN running_overtime;
ALTER TABLE business DROP COLUMN running_hour;
