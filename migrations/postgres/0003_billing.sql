-- +goose Up
-- Amounts are integers in minor units of the currency beside them; rates are
-- ten-thousandths. What an issued document said of seller, buyer and tax is
-- kept as JSON, because nothing else may change it.
CREATE TABLE price_lists (
    id         TEXT PRIMARY KEY,
    name       TEXT NOT NULL,
    valid_from TEXT NOT NULL UNIQUE,
    currency   TEXT NOT NULL,
    body       TEXT NOT NULL,
    version    INTEGER NOT NULL
);

CREATE TABLE month_runs (
    month    TEXT PRIMARY KEY,
    state    TEXT NOT NULL CHECK (state IN ('running', 'done')),
    started  BIGINT NOT NULL,
    finished BIGINT NOT NULL
);

-- The last number given out; taken in the transaction that issues.
CREATE TABLE number_series (
    series TEXT PRIMARY KEY,
    last   INTEGER NOT NULL CHECK (last > 0)
);

CREATE TABLE invoices (
    id             TEXT PRIMARY KEY,
    kind           TEXT NOT NULL CHECK (kind IN ('invoice', 'credit note')),
    series         TEXT NOT NULL,
    place          INTEGER NOT NULL,
    number         TEXT NOT NULL UNIQUE,
    month          TEXT NOT NULL,
    farm_id        TEXT NOT NULL REFERENCES farms (id),
    issued         TEXT NOT NULL,
    due            TEXT NOT NULL,
    currency       TEXT NOT NULL,
    seller         TEXT NOT NULL,
    buyer          TEXT NOT NULL,
    net            BIGINT NOT NULL,
    tax            BIGINT NOT NULL,
    gross          BIGINT NOT NULL,
    taxes          TEXT NOT NULL,
    tax_reason     TEXT NOT NULL,
    pay_to         TEXT NOT NULL,
    credits        TEXT REFERENCES invoices (id),
    credits_number TEXT NOT NULL,
    credits_date   TEXT NOT NULL,
    reason         TEXT NOT NULL,
    created        BIGINT NOT NULL,
    pdf            BYTEA NOT NULL,
    hash           TEXT NOT NULL,
    UNIQUE (series, place),
    CHECK (gross = net + tax),
    CHECK ((kind = 'credit note') = (credits IS NOT NULL))
);
CREATE INDEX invoices_farm ON invoices (farm_id);
CREATE INDEX invoices_month ON invoices (month);
CREATE INDEX invoices_credits ON invoices (credits);

CREATE TABLE invoice_lines (
    invoice_id   TEXT NOT NULL REFERENCES invoices (id),
    place        INTEGER NOT NULL,
    kind         TEXT NOT NULL,
    wording      TEXT NOT NULL,
    why          TEXT NOT NULL,
    quantity     BIGINT NOT NULL,
    unit         TEXT NOT NULL,
    rate         BIGINT NOT NULL,
    net          BIGINT NOT NULL,
    tax_category TEXT NOT NULL,
    tax_percent  BIGINT NOT NULL,
    docket_id    TEXT NOT NULL,
    day          TEXT NOT NULL,
    yard         TEXT NOT NULL,
    credits      TEXT REFERENCES invoices (id),
    credits_line INTEGER NOT NULL,
    PRIMARY KEY (invoice_id, place)
);
-- A line is taken back once.
CREATE UNIQUE INDEX invoice_lines_credits ON invoice_lines (credits, credits_line) WHERE credits IS NOT NULL;
CREATE INDEX invoice_lines_docket ON invoice_lines (docket_id);

-- A docket is billed once, or waived with a reason.
CREATE TABLE billed_dockets (
    docket_id  TEXT PRIMARY KEY,
    invoice_id TEXT REFERENCES invoices (id),
    waived     TEXT NOT NULL,
    CHECK ((invoice_id IS NULL) = (waived <> ''))
);
CREATE INDEX billed_dockets_invoice ON billed_dockets (invoice_id);

CREATE TABLE payments (
    id         TEXT PRIMARY KEY,
    invoice_id TEXT NOT NULL REFERENCES invoices (id),
    day        TEXT NOT NULL,
    amount     BIGINT NOT NULL CHECK (amount > 0),
    how        TEXT NOT NULL,
    recorded   BIGINT NOT NULL,
    struck     BIGINT NOT NULL
);
CREATE INDEX payments_invoice ON payments (invoice_id);

-- What has been issued never changes.
-- +goose StatementBegin
CREATE FUNCTION issued_never_changes() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    RAISE EXCEPTION 'an issued document never changes; mend it with a credit note';
END;
$$;
-- +goose StatementEnd
CREATE TRIGGER invoices_never_change BEFORE UPDATE OR DELETE ON invoices
    FOR EACH ROW EXECUTE FUNCTION issued_never_changes();
CREATE TRIGGER invoice_lines_never_change BEFORE UPDATE OR DELETE ON invoice_lines
    FOR EACH ROW EXECUTE FUNCTION issued_never_changes();
-- +goose Down
DROP TABLE payments;
DROP TABLE billed_dockets;
DROP TABLE invoice_lines;
DROP TABLE invoices;
DROP TABLE number_series;
DROP TABLE month_runs;
DROP TABLE price_lists;
DROP FUNCTION issued_never_changes();
