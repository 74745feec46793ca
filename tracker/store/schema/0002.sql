-- A bike that is still to come, and the payer's own number for the work.

ALTER TABLE card ADD COLUMN comes_on TEXT;
ALTER TABLE card ADD COLUMN claim TEXT NOT NULL DEFAULT '';

-- Notes are found by their words too: what finds is written anew. fold and squeeze are the program's own.
DELETE FROM finder;

INSERT INTO finder (rowid, folded, table_name, row_id)
SELECT id * 8, fold (name) || ' ' || squeeze (phone) || ' ' || fold (email) || ' ' || fold (notes), 'customer', id
FROM customer;

INSERT INTO finder (rowid, folded, table_name, row_id)
SELECT id * 8 + 1,
    squeeze (registration) || ' ' || squeeze (vin) || ' ' || fold (make || ' ' || model) || ' '
    || CASE WHEN year IS NULL OR year = 0 THEN '' ELSE year END || ' ' || fold (notes),
    'bike', id
FROM bike;

INSERT INTO finder (rowid, folded, table_name, row_id)
SELECT id * 8 + 2,
    number || ' ' || squeeze (number) || ' ' || fold (complaint) || ' ' || fold (unit) || ' ' || fold (notes)
    || ' ' || fold (claim) || ' ' || squeeze (claim),
    'card', id
FROM card;

INSERT INTO finder (rowid, folded, table_name, row_id)
SELECT id * 8 + 3, fold (code) || ' ' || squeeze (code) || ' ' || fold (name), 'part', id
FROM part;
