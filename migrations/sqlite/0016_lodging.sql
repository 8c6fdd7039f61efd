-- +goose Up
-- Whether a rig's crew may lodge near a yard, and after which visits it does.
ALTER TABLE rigs ADD COLUMN lodges INTEGER NOT NULL DEFAULT 0;
ALTER TABLE visits ADD COLUMN lodged INTEGER NOT NULL DEFAULT 0;

-- +goose Down
ALTER TABLE visits DROP COLUMN lodged;
ALTER TABLE rigs DROP COLUMN lodges;
