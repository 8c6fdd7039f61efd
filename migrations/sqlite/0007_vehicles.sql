-- +goose Up
-- What tows or carries a rig, as it drives alone; 0 is not known.
ALTER TABLE rigs ADD COLUMN vehicle_mass INTEGER NOT NULL DEFAULT 0;
ALTER TABLE rigs ADD COLUMN vehicle_length REAL NOT NULL DEFAULT 0;
ALTER TABLE rigs ADD COLUMN vehicle_width REAL NOT NULL DEFAULT 0;
ALTER TABLE rigs ADD COLUMN vehicle_height REAL NOT NULL DEFAULT 0;

-- +goose Down
ALTER TABLE rigs DROP COLUMN vehicle_height;
ALTER TABLE rigs DROP COLUMN vehicle_width;
ALTER TABLE rigs DROP COLUMN vehicle_length;
ALTER TABLE rigs DROP COLUMN vehicle_mass;
