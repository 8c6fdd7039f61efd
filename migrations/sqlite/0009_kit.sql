-- +goose Up
-- What the kit list of a visit is reckoned from: the product of a service as
-- its label has it, and the animals of a mob that get one dose.
ALTER TABLE services ADD COLUMN product TEXT NOT NULL DEFAULT '';
ALTER TABLE services ADD COLUMN mg_per_kg REAL NOT NULL DEFAULT 0;
ALTER TABLE services ADD COLUMN mg_per_ml REAL NOT NULL DEFAULT 0;
ALTER TABLE services ADD COLUMN ml_per_head REAL NOT NULL DEFAULT 0;
ALTER TABLE services ADD COLUMN packs TEXT NOT NULL DEFAULT '[]';
ALTER TABLE mobs ADD COLUMN weights TEXT NOT NULL DEFAULT '[]';

-- +goose Down
ALTER TABLE mobs DROP COLUMN weights;
ALTER TABLE services DROP COLUMN packs;
ALTER TABLE services DROP COLUMN ml_per_head;
ALTER TABLE services DROP COLUMN mg_per_ml;
ALTER TABLE services DROP COLUMN mg_per_kg;
ALTER TABLE services DROP COLUMN product;
