-- +goose Up
-- Who is away when, which rigs rest on public holidays, and how much it
-- matters that a booking gets a day; '' is as usual.
ALTER TABLE people ADD COLUMN away TEXT NOT NULL DEFAULT '[]';
ALTER TABLE rigs ADD COLUMN rests INTEGER NOT NULL DEFAULT 0;
ALTER TABLE bookings ADD COLUMN priority TEXT NOT NULL DEFAULT '';

-- +goose Down
ALTER TABLE bookings DROP COLUMN priority;
ALTER TABLE rigs DROP COLUMN rests;
ALTER TABLE people DROP COLUMN away;
