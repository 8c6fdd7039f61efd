-- +goose Up
-- Whether a rig's crew may lodge near a yard, and after which visits it does.
ALTER TABLE rigs ADD COLUMN lodges BOOLEAN NOT NULL DEFAULT FALSE;
ALTER TABLE visits ADD COLUMN lodged BOOLEAN NOT NULL DEFAULT FALSE;

-- +goose Down
ALTER TABLE visits DROP COLUMN lodged;
ALTER TABLE rigs DROP COLUMN lodges;
