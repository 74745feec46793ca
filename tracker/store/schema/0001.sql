-- The first schema. This text is the truth; `tracker.store.codec` is compared with it by a test.
-- Instants are UTC texts, dates ISO texts, decimals plain digits as text, money whole minor units.
-- AUTOINCREMENT: the id of a row that was taken back is never given to another one.

-- The shop

CREATE TABLE setting (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    version INTEGER NOT NULL CHECK (version > 0),
    name TEXT NOT NULL,
    value TEXT NOT NULL,
    UNIQUE (name)
) STRICT;

CREATE TABLE shop_file (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    version INTEGER NOT NULL CHECK (version > 0),
    name TEXT NOT NULL,
    text TEXT NOT NULL,
    UNIQUE (name)
) STRICT;

CREATE TABLE counter (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    version INTEGER NOT NULL CHECK (version > 0),
    series TEXT NOT NULL,
    year INTEGER NOT NULL,
    last INTEGER NOT NULL,
    UNIQUE (series, year),
    CHECK (last > 0)
) STRICT;

-- Who did what, and how a row was before

CREATE TABLE journal_entry (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    at TEXT NOT NULL,
    who TEXT NOT NULL,
    deed TEXT NOT NULL,
    words TEXT NOT NULL,
    card INTEGER, -- no reference: the entry outlives a card that was taken back
    subject_table TEXT NOT NULL,
    subject_id INTEGER,
    undoes INTEGER REFERENCES journal_entry (id)
) STRICT;

CREATE TABLE before_image (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    entry INTEGER NOT NULL REFERENCES journal_entry (id),
    table_name TEXT NOT NULL,
    row_id INTEGER NOT NULL,
    image TEXT CHECK (image IS NULL OR json_valid (image)),
    after_version INTEGER
) STRICT;

-- People

CREATE TABLE mechanic (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    version INTEGER NOT NULL CHECK (version > 0),
    name TEXT NOT NULL,
    key TEXT NOT NULL,
    active INTEGER NOT NULL CHECK (active IN (0, 1)),
    UNIQUE (name)
) STRICT;

CREATE TABLE customer (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    version INTEGER NOT NULL CHECK (version > 0),
    name TEXT NOT NULL,
    phone TEXT NOT NULL,
    email TEXT NOT NULL,
    address TEXT NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN ('private', 'account', 'insurer')),
    tax_number TEXT NOT NULL,
    terms_days INTEGER NOT NULL,
    reminders INTEGER NOT NULL CHECK (reminders IN (0, 1)),
    notes TEXT NOT NULL
) STRICT;

CREATE TABLE ownership (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    version INTEGER NOT NULL CHECK (version > 0),
    bike INTEGER NOT NULL REFERENCES bike (id),
    customer INTEGER NOT NULL REFERENCES customer (id),
    role TEXT NOT NULL CHECK (role IN ('owner', 'rider')),
    since TEXT,
    until TEXT,
    CHECK (until IS NULL OR since IS NULL OR until >= since)
) STRICT;

-- Bikes and what is known of their looms

CREATE TABLE bike (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    version INTEGER NOT NULL CHECK (version > 0),
    make TEXT NOT NULL,
    model TEXT NOT NULL,
    year INTEGER,
    registration TEXT NOT NULL,
    vin TEXT NOT NULL,
    colour TEXT NOT NULL,
    odometer_unit TEXT NOT NULL CHECK (odometer_unit IN ('km', 'mi')),
    earth TEXT NOT NULL CHECK (earth IN ('negative', 'positive', 'none', 'don''t know')),
    volts INTEGER,
    battery_kind TEXT NOT NULL,
    battery_ah REAL,
    wheelbase_mm INTEGER,
    notes TEXT NOT NULL
) STRICT;

CREATE TABLE bike_feature (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    version INTEGER NOT NULL CHECK (version > 0),
    bike INTEGER NOT NULL REFERENCES bike (id),
    feature TEXT NOT NULL,
    answer TEXT NOT NULL,
    card INTEGER REFERENCES card (id),
    at TEXT NOT NULL
) STRICT;

CREATE TABLE loom_fact (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    bike INTEGER REFERENCES bike (id),
    model_of TEXT NOT NULL,
    card INTEGER REFERENCES card (id),
    deed TEXT NOT NULL,
    facts TEXT NOT NULL CHECK (json_valid(facts)),
    words TEXT NOT NULL,
    who TEXT NOT NULL,
    at TEXT NOT NULL
) STRICT;

CREATE TABLE own_figure (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    bike INTEGER REFERENCES bike (id),
    model_of TEXT NOT NULL,
    kind TEXT NOT NULL,
    least REAL,
    most REAL,
    unit TEXT NOT NULL,
    source TEXT NOT NULL,
    who TEXT NOT NULL,
    at TEXT NOT NULL
) STRICT;

-- Job cards and what is written on them

CREATE TABLE card (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    version INTEGER NOT NULL CHECK (version > 0),
    number TEXT NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN ('bike', 'unit', 'project')),
    bike INTEGER REFERENCES bike (id),
    unit TEXT NOT NULL,
    customer INTEGER REFERENCES customer (id),
    payer INTEGER REFERENCES customer (id),
    rider INTEGER REFERENCES customer (id),
    complaint TEXT NOT NULL,
    came_at TEXT NOT NULL,
    came_how TEXT NOT NULL,
    odometer INTEGER,
    promised_on TEXT,
    marks TEXT NOT NULL,
    keys TEXT NOT NULL,
    stands TEXT NOT NULL,
    road_test INTEGER CHECK (road_test IN (0, 1)),
    call_out INTEGER NOT NULL CHECK (call_out IN (0, 1)),
    distance REAL,
    excess_minor INTEGER,
    comeback_of INTEGER REFERENCES card (id),
    comeback_charged INTEGER NOT NULL CHECK (comeback_charged IN (0, 1)),
    notes TEXT NOT NULL,
    UNIQUE (number),
    CHECK (kind != 'bike' OR bike IS NOT NULL)
) STRICT;

CREATE TABLE symptom (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    card INTEGER NOT NULL REFERENCES card (id),
    kind TEXT NOT NULL CHECK (kind IN ('dead', 'weak', 'works', 'comes and goes', 'blows its fuse', 'bulbs keep blowing', 'won''t go off', 'comes on with another', 'flashes fast', 'flashes slow', 'does not flash', 'flat when parked')),
    load TEXT NOT NULL,
    words TEXT NOT NULL,
    "when" TEXT NOT NULL,
    at TEXT NOT NULL
) STRICT;

CREATE TABLE reading (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    card INTEGER NOT NULL REFERENCES card (id),
    bike INTEGER REFERENCES bike (id),
    kind TEXT NOT NULL,
    value REAL,
    unit TEXT NOT NULL,
    words TEXT NOT NULL,
    place TEXT NOT NULL,
    side TEXT NOT NULL,
    state TEXT NOT NULL,
    conditions TEXT NOT NULL CHECK (json_valid(conditions)),
    phase TEXT NOT NULL CHECK (phase IN ('before', 'after')),
    repair INTEGER REFERENCES repair (id),
    by TEXT NOT NULL,
    at TEXT NOT NULL
) STRICT;

CREATE TABLE finding (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    version INTEGER NOT NULL CHECK (version > 0),
    card INTEGER NOT NULL REFERENCES card (id),
    words TEXT NOT NULL,
    circuit TEXT NOT NULL,
    place TEXT NOT NULL,
    zone TEXT NOT NULL,
    fault TEXT NOT NULL,
    left TEXT NOT NULL,
    told_unsafe INTEGER NOT NULL CHECK (told_unsafe IN (0, 1)),
    by TEXT NOT NULL,
    at TEXT NOT NULL
) STRICT;

CREATE TABLE go_ahead (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    card INTEGER NOT NULL REFERENCES card (id),
    what TEXT NOT NULL CHECK (what IN ('look', 'work')),
    estimate INTEGER REFERENCES estimate (id),
    covers TEXT NOT NULL CHECK (json_valid(covers)),
    who TEXT NOT NULL,
    how TEXT NOT NULL,
    limit_minor INTEGER,
    limit_min INTEGER,
    tolerance TEXT NOT NULL CHECK (tolerance IN ('none', 'percent', 'off')),
    tolerance_percent INTEGER NOT NULL,
    words TEXT NOT NULL,
    by TEXT NOT NULL,
    at TEXT NOT NULL
) STRICT;

CREATE TABLE waiver (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    card INTEGER NOT NULL REFERENCES card (id),
    need TEXT NOT NULL CHECK (need IN ('leave to look', 'findings', 'estimate', 'go-ahead', 'repairs', 'tests', 'invoice', 'payment', 'collection', 'recheck')),
    reason TEXT NOT NULL,
    by TEXT NOT NULL,
    at TEXT NOT NULL
) STRICT;

CREATE TABLE ending (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    card INTEGER NOT NULL REFERENCES card (id),
    kind TEXT NOT NULL CHECK (kind IN ('declined', 'nothing found', 'can''t make it do it', 'not worth it', 'collected undone')),
    words TEXT NOT NULL,
    told_unsafe INTEGER NOT NULL CHECK (told_unsafe IN (0, 1)),
    by TEXT NOT NULL,
    at TEXT NOT NULL
) STRICT;

CREATE TABLE collection (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    card INTEGER NOT NULL REFERENCES card (id),
    to_whom TEXT NOT NULL,
    odometer INTEGER,
    override TEXT NOT NULL,
    by TEXT NOT NULL,
    at TEXT NOT NULL
) STRICT;

CREATE TABLE call (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    card INTEGER NOT NULL REFERENCES card (id),
    who TEXT NOT NULL,
    inward INTEGER NOT NULL CHECK (inward IN (0, 1)),
    outcome TEXT NOT NULL CHECK (outcome IN ('spoke', 'no answer', 'left word', 'sent')),
    words TEXT NOT NULL,
    by TEXT NOT NULL,
    at TEXT NOT NULL
) STRICT;

CREATE TABLE opened (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    card INTEGER NOT NULL REFERENCES card (id),
    access TEXT NOT NULL,
    refitted INTEGER NOT NULL CHECK (refitted IN (0, 1)),
    by TEXT NOT NULL,
    at TEXT NOT NULL
) STRICT;

CREATE TABLE attachment (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    card INTEGER REFERENCES card (id),
    bike INTEGER REFERENCES bike (id),
    repair INTEGER REFERENCES repair (id),
    name TEXT NOT NULL,
    mime TEXT NOT NULL,
    content BLOB NOT NULL,
    sha256 TEXT NOT NULL,
    words TEXT NOT NULL,
    by TEXT NOT NULL,
    at TEXT NOT NULL,
    CHECK (card IS NOT NULL OR bike IS NOT NULL)
) STRICT;

-- Repairs and time

CREATE TABLE repair (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    version INTEGER NOT NULL CHECK (version > 0),
    card INTEGER NOT NULL REFERENCES card (id),
    finding INTEGER REFERENCES finding (id),
    rule TEXT NOT NULL,
    asked TEXT NOT NULL CHECK (json_valid(asked)),
    proves TEXT NOT NULL CHECK (json_valid(proves)),
    words TEXT NOT NULL,
    circuit TEXT NOT NULL,
    wire_from TEXT NOT NULL,
    wire_to TEXT NOT NULL,
    mm INTEGER,
    mm_end TEXT NOT NULL,
    size_mm2 REAL,
    colour TEXT NOT NULL,
    tracer TEXT NOT NULL,
    colour_code TEXT NOT NULL,
    splice TEXT NOT NULL,
    terminal TEXT NOT NULL,
    connector_old TEXT NOT NULL,
    connector_new TEXT NOT NULL,
    keeps_ways INTEGER CHECK (keeps_ways IN (0, 1)),
    sleeve TEXT NOT NULL,
    length_used_mm INTEGER,
    pull_n REAL,
    pull_tested INTEGER CHECK (pull_tested IN (0, 1)),
    started_at TEXT,
    done_at TEXT,
    done_by TEXT NOT NULL,
    dropped TEXT NOT NULL,
    sent_out_to TEXT NOT NULL
) STRICT;

CREATE TABLE time_entry (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    version INTEGER NOT NULL CHECK (version > 0),
    card INTEGER NOT NULL REFERENCES card (id),
    repair INTEGER REFERENCES repair (id),
    mechanic INTEGER NOT NULL REFERENCES mechanic (id),
    kind TEXT NOT NULL CHECK (kind IN ('repair', 'looking', 'travel', 'other')),
    on_at TEXT NOT NULL,
    off_at TEXT,
    typed INTEGER NOT NULL CHECK (typed IN (0, 1)),
    words TEXT NOT NULL,
    CHECK (off_at IS NULL OR off_at >= on_at),
    CHECK ((kind = 'repair') = (repair IS NOT NULL))
) STRICT;

-- Looks again

CREATE TABLE recheck (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    version INTEGER NOT NULL CHECK (version > 0),
    card INTEGER NOT NULL REFERENCES card (id),
    bike INTEGER NOT NULL REFERENCES bike (id),
    reason TEXT NOT NULL,
    anchor_on TEXT NOT NULL,
    days INTEGER NOT NULL,
    distance INTEGER NOT NULL,
    due_on TEXT NOT NULL,
    due_odometer INTEGER,
    state TEXT NOT NULL CHECK (state IN ('open', 'booked', 'done', 'not wanted')),
    outcome TEXT NOT NULL,
    booked_card INTEGER REFERENCES card (id),
    by TEXT NOT NULL,
    at TEXT NOT NULL
) STRICT;

-- Parts

CREATE TABLE part (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    version INTEGER NOT NULL CHECK (version > 0),
    code TEXT NOT NULL,
    name TEXT NOT NULL,
    unit TEXT NOT NULL,
    price TEXT NOT NULL,
    cost TEXT NOT NULL,
    tax_rate TEXT,
    supplier TEXT NOT NULL,
    place TEXT NOT NULL,
    least TEXT NOT NULL,
    active INTEGER NOT NULL CHECK (active IN (0, 1)),
    UNIQUE (code)
) STRICT;

CREATE TABLE stock_move (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    part INTEGER NOT NULL REFERENCES part (id),
    qty TEXT NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN ('arrived', 'used', 'returned', 'counted', 'sent back')),
    card INTEGER REFERENCES card (id),
    repair INTEGER REFERENCES repair (id),
    wanted INTEGER REFERENCES part_wanted (id),
    unit_cost TEXT,
    words TEXT NOT NULL,
    by TEXT NOT NULL,
    at TEXT NOT NULL
) STRICT;

CREATE TABLE part_wanted (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    version INTEGER NOT NULL CHECK (version > 0),
    card INTEGER NOT NULL REFERENCES card (id),
    part INTEGER REFERENCES part (id),
    words TEXT NOT NULL,
    qty TEXT NOT NULL,
    unit TEXT NOT NULL,
    unit_price TEXT NOT NULL,
    tax_rate TEXT,
    customers_own INTEGER NOT NULL CHECK (customers_own IN (0, 1)),
    exchange INTEGER NOT NULL CHECK (exchange IN (0, 1)),
    repair INTEGER REFERENCES repair (id),
    estimate INTEGER REFERENCES estimate (id),
    state TEXT NOT NULL CHECK (state IN ('wanted', 'ordered', 'here', 'fitted', 'wrong', 'dropped')),
    supplier TEXT NOT NULL,
    ordered_on TEXT,
    expected_on TEXT,
    by TEXT NOT NULL,
    at TEXT NOT NULL
) STRICT;

-- Estimates, numbered documents, money

CREATE TABLE estimate (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    card INTEGER NOT NULL REFERENCES card (id),
    number TEXT NOT NULL,
    revision INTEGER NOT NULL,
    made_on TEXT NOT NULL,
    fixed_price INTEGER NOT NULL CHECK (fixed_price IN (0, 1)),
    currency TEXT NOT NULL,
    covers TEXT NOT NULL CHECK (json_valid(covers)),
    least_min INTEGER NOT NULL,
    likely_min INTEGER NOT NULL,
    most_min INTEGER NOT NULL,
    expected_min INTEGER NOT NULL,
    low_min INTEGER NOT NULL,
    high_min INTEGER NOT NULL,
    net_minor INTEGER NOT NULL,
    tax_minor INTEGER NOT NULL,
    total_minor INTEGER NOT NULL,
    high_total_minor INTEGER NOT NULL,
    wire_mm TEXT NOT NULL CHECK (json_valid(wire_mm)),
    frozen TEXT NOT NULL CHECK (json_valid(frozen)),
    words TEXT NOT NULL,
    by TEXT NOT NULL,
    at TEXT NOT NULL,
    UNIQUE (number),
    UNIQUE (card, revision),
    CHECK (total_minor = net_minor + tax_minor)
) STRICT;

CREATE TABLE estimate_line (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    estimate INTEGER NOT NULL REFERENCES estimate (id),
    position INTEGER NOT NULL,
    repair INTEGER REFERENCES repair (id),
    kind TEXT NOT NULL CHECK (kind IN ('diagnosis', 'labour', 'access', 'part', 'wire', 'travel', 'fee', 'deposit', 'discount', 'other')),
    words TEXT NOT NULL,
    qty TEXT NOT NULL,
    unit TEXT NOT NULL,
    unit_price TEXT NOT NULL,
    base_qty TEXT NOT NULL,
    net_minor INTEGER NOT NULL,
    tax_category TEXT NOT NULL,
    tax_rate TEXT NOT NULL,
    book_min INTEGER,
    least_min INTEGER,
    likely_min INTEGER,
    most_min INTEGER,
    part INTEGER REFERENCES part (id),
    why TEXT NOT NULL,
    UNIQUE (estimate, position)
) STRICT;

CREATE TABLE document (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    kind TEXT NOT NULL CHECK (kind IN ('deposit', 'invoice', 'credit note')),
    number TEXT NOT NULL,
    series TEXT NOT NULL,
    year INTEGER NOT NULL,
    sequence INTEGER NOT NULL,
    card INTEGER REFERENCES card (id),
    customer INTEGER REFERENCES customer (id),
    issued_on TEXT NOT NULL,
    supply_on TEXT NOT NULL,
    due_on TEXT NOT NULL,
    currency TEXT NOT NULL,
    seller TEXT NOT NULL CHECK (json_valid(seller)),
    buyer TEXT NOT NULL CHECK (json_valid(buyer)),
    corrects INTEGER REFERENCES document (id),
    line_total_minor INTEGER NOT NULL,
    allowance_total_minor INTEGER NOT NULL,
    charge_total_minor INTEGER NOT NULL,
    net_minor INTEGER NOT NULL,
    tax_minor INTEGER NOT NULL,
    total_minor INTEGER NOT NULL,
    prepaid_minor INTEGER NOT NULL,
    rounding_minor INTEGER NOT NULL,
    rounding_why TEXT NOT NULL,
    payable_minor INTEGER NOT NULL,
    words TEXT NOT NULL,
    by TEXT NOT NULL,
    at TEXT NOT NULL,
    UNIQUE (number),
    UNIQUE (series, year, sequence),
    CHECK (total_minor = net_minor + tax_minor),
    CHECK (payable_minor = total_minor - prepaid_minor + rounding_minor),
    CHECK ((kind = 'credit note') = (corrects IS NOT NULL))
) STRICT;

CREATE TABLE document_line (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    document INTEGER NOT NULL REFERENCES document (id),
    position INTEGER NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN ('diagnosis', 'labour', 'access', 'part', 'wire', 'travel', 'fee', 'deposit', 'discount', 'other')),
    words TEXT NOT NULL,
    qty TEXT NOT NULL,
    unit TEXT NOT NULL,
    unit_price TEXT NOT NULL,
    base_qty TEXT NOT NULL,
    net_minor INTEGER NOT NULL,
    tax_category TEXT NOT NULL,
    tax_rate TEXT NOT NULL,
    exemption TEXT NOT NULL,
    repair INTEGER REFERENCES repair (id),
    part INTEGER REFERENCES part (id),
    sets_off INTEGER REFERENCES document (id),
    gives_back INTEGER REFERENCES document_line (id),
    UNIQUE (document, position)
) STRICT;

CREATE TABLE document_tax (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    document INTEGER NOT NULL REFERENCES document (id),
    category TEXT NOT NULL,
    rate TEXT NOT NULL,
    taxable_minor INTEGER NOT NULL,
    tax_minor INTEGER NOT NULL,
    exemption TEXT NOT NULL,
    reason TEXT NOT NULL,
    UNIQUE (document, category, rate)
) STRICT;

CREATE TABLE payment (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    customer INTEGER REFERENCES customer (id),
    card INTEGER REFERENCES card (id),
    amount_minor INTEGER NOT NULL,
    currency TEXT NOT NULL,
    method TEXT NOT NULL,
    received_on TEXT NOT NULL,
    words TEXT NOT NULL,
    by TEXT NOT NULL,
    at TEXT NOT NULL
) STRICT;

CREATE TABLE allocation (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    payment INTEGER REFERENCES payment (id),
    credit_note INTEGER REFERENCES document (id),
    document INTEGER NOT NULL REFERENCES document (id),
    amount_minor INTEGER NOT NULL,
    at TEXT NOT NULL,
    CHECK ((payment IS NULL) != (credit_note IS NULL))
) STRICT;

CREATE TABLE write_off (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    document INTEGER NOT NULL REFERENCES document (id),
    amount_minor INTEGER NOT NULL,
    reason TEXT NOT NULL,
    by TEXT NOT NULL,
    at TEXT NOT NULL
) STRICT;

CREATE INDEX journal_entry_by_card ON journal_entry (card);
CREATE UNIQUE INDEX journal_entry_by_undoes ON journal_entry (undoes);
CREATE INDEX journal_entry_by_who ON journal_entry (who, id);
CREATE INDEX before_image_by_entry ON before_image (entry);
CREATE INDEX before_image_by_row ON before_image (table_name, row_id);
CREATE INDEX ownership_by_bike ON ownership (bike);
CREATE INDEX ownership_by_customer ON ownership (customer);
CREATE INDEX bike_feature_by_bike ON bike_feature (bike);
CREATE INDEX bike_feature_by_card ON bike_feature (card);
CREATE INDEX loom_fact_by_bike ON loom_fact (bike);
CREATE INDEX loom_fact_by_card ON loom_fact (card);
CREATE INDEX own_figure_by_bike ON own_figure (bike);
CREATE INDEX card_by_bike ON card (bike);
CREATE INDEX card_by_customer ON card (customer);
CREATE INDEX card_by_payer ON card (payer);
CREATE INDEX card_by_rider ON card (rider);
CREATE INDEX card_by_comeback_of ON card (comeback_of);
CREATE INDEX symptom_by_card ON symptom (card);
CREATE INDEX reading_by_card ON reading (card);
CREATE INDEX reading_by_bike ON reading (bike);
CREATE INDEX reading_by_repair ON reading (repair);
CREATE INDEX finding_by_card ON finding (card);
CREATE INDEX go_ahead_by_card ON go_ahead (card);
CREATE INDEX go_ahead_by_estimate ON go_ahead (estimate);
CREATE INDEX waiver_by_card ON waiver (card);
CREATE INDEX ending_by_card ON ending (card);
CREATE INDEX collection_by_card ON collection (card);
CREATE INDEX call_by_card ON call (card);
CREATE INDEX opened_by_card ON opened (card);
CREATE INDEX attachment_by_card ON attachment (card);
CREATE INDEX attachment_by_bike ON attachment (bike);
CREATE INDEX attachment_by_repair ON attachment (repair);
CREATE INDEX repair_by_card ON repair (card);
CREATE INDEX repair_by_finding ON repair (finding);
CREATE INDEX time_entry_by_card ON time_entry (card);
CREATE INDEX time_entry_by_repair ON time_entry (repair);
CREATE INDEX time_entry_by_mechanic ON time_entry (mechanic);
CREATE INDEX recheck_by_card ON recheck (card);
CREATE INDEX recheck_by_bike ON recheck (bike);
CREATE INDEX recheck_by_booked_card ON recheck (booked_card);
CREATE INDEX stock_move_by_part ON stock_move (part);
CREATE INDEX stock_move_by_card ON stock_move (card);
CREATE INDEX stock_move_by_repair ON stock_move (repair);
CREATE INDEX stock_move_by_wanted ON stock_move (wanted);
CREATE INDEX part_wanted_by_card ON part_wanted (card);
CREATE INDEX part_wanted_by_part ON part_wanted (part);
CREATE INDEX part_wanted_by_estimate ON part_wanted (estimate);
CREATE INDEX part_wanted_by_repair ON part_wanted (repair);
CREATE INDEX estimate_by_card ON estimate (card);
CREATE INDEX estimate_line_by_estimate ON estimate_line (estimate);
CREATE INDEX estimate_line_by_repair ON estimate_line (repair);
CREATE INDEX estimate_line_by_part ON estimate_line (part);
CREATE INDEX document_by_card ON document (card);
CREATE INDEX document_by_customer ON document (customer);
CREATE INDEX document_by_corrects ON document (corrects);
CREATE INDEX document_line_by_document ON document_line (document);
CREATE INDEX document_line_by_repair ON document_line (repair);
CREATE INDEX document_line_by_part ON document_line (part);
CREATE INDEX document_line_by_sets_off ON document_line (sets_off);
CREATE INDEX document_line_by_gives_back ON document_line (gives_back);
CREATE INDEX document_tax_by_document ON document_tax (document);
CREATE INDEX payment_by_customer ON payment (customer);
CREATE INDEX payment_by_card ON payment (card);
CREATE INDEX allocation_by_payment ON allocation (payment);
CREATE INDEX allocation_by_credit_note ON allocation (credit_note);
CREATE INDEX allocation_by_document ON allocation (document);
CREATE INDEX write_off_by_document ON write_off (document);

CREATE INDEX customer_by_name ON customer (name);
CREATE INDEX bike_by_registration ON bike (registration);
CREATE INDEX card_by_came_at ON card (came_at);
CREATE INDEX recheck_by_state ON recheck (state, due_on);
CREATE INDEX shop_wanted_by_state ON part_wanted (state);
CREATE INDEX own_figure_by_model ON own_figure (model_of);
CREATE INDEX loom_fact_by_model ON loom_fact (model_of);

-- One running clock for each mechanic; never two open rechecks of a bike for the same reason.
CREATE UNIQUE INDEX time_entry_running ON time_entry (mechanic) WHERE off_at IS NULL;
CREATE UNIQUE INDEX recheck_open ON recheck (bike, reason) WHERE state IN ('open', 'booked');

-- Find as you type: one folded text for each customer, bike, card and part.
CREATE VIRTUAL TABLE finder USING fts5 (folded, table_name UNINDEXED, row_id UNINDEXED, tokenize = 'trigram');

-- What is typed in a form and not yet saved. Not journaled: it is nobody's fact yet.
CREATE TABLE draft (
    form TEXT NOT NULL,
    who TEXT NOT NULL,
    subject TEXT NOT NULL,
    content TEXT NOT NULL CHECK (json_valid(content)),
    at TEXT NOT NULL,
    PRIMARY KEY (form, who, subject)
) STRICT, WITHOUT ROWID;

-- Seals: what was issued or journaled is never changed and never goes.
CREATE TRIGGER document_sealed_update BEFORE UPDATE ON document BEGIN SELECT RAISE (ABORT, 'sealed: document'); END;
CREATE TRIGGER document_sealed_delete BEFORE DELETE ON document BEGIN SELECT RAISE (ABORT, 'sealed: document'); END;
CREATE TRIGGER document_line_sealed_update BEFORE UPDATE ON document_line BEGIN SELECT RAISE (ABORT, 'sealed: document_line'); END;
CREATE TRIGGER document_line_sealed_delete BEFORE DELETE ON document_line BEGIN SELECT RAISE (ABORT, 'sealed: document_line'); END;
CREATE TRIGGER document_tax_sealed_update BEFORE UPDATE ON document_tax BEGIN SELECT RAISE (ABORT, 'sealed: document_tax'); END;
CREATE TRIGGER document_tax_sealed_delete BEFORE DELETE ON document_tax BEGIN SELECT RAISE (ABORT, 'sealed: document_tax'); END;
CREATE TRIGGER estimate_sealed_update BEFORE UPDATE ON estimate BEGIN SELECT RAISE (ABORT, 'sealed: estimate'); END;
CREATE TRIGGER estimate_sealed_delete BEFORE DELETE ON estimate BEGIN SELECT RAISE (ABORT, 'sealed: estimate'); END;
CREATE TRIGGER estimate_line_sealed_update BEFORE UPDATE ON estimate_line BEGIN SELECT RAISE (ABORT, 'sealed: estimate_line'); END;
CREATE TRIGGER estimate_line_sealed_delete BEFORE DELETE ON estimate_line BEGIN SELECT RAISE (ABORT, 'sealed: estimate_line'); END;
CREATE TRIGGER payment_sealed_update BEFORE UPDATE ON payment BEGIN SELECT RAISE (ABORT, 'sealed: payment'); END;
CREATE TRIGGER payment_sealed_delete BEFORE DELETE ON payment BEGIN SELECT RAISE (ABORT, 'sealed: payment'); END;
CREATE TRIGGER allocation_sealed_update BEFORE UPDATE ON allocation BEGIN SELECT RAISE (ABORT, 'sealed: allocation'); END;
CREATE TRIGGER allocation_sealed_delete BEFORE DELETE ON allocation BEGIN SELECT RAISE (ABORT, 'sealed: allocation'); END;
CREATE TRIGGER write_off_sealed_update BEFORE UPDATE ON write_off BEGIN SELECT RAISE (ABORT, 'sealed: write_off'); END;
CREATE TRIGGER write_off_sealed_delete BEFORE DELETE ON write_off BEGIN SELECT RAISE (ABORT, 'sealed: write_off'); END;
CREATE TRIGGER journal_entry_sealed_update BEFORE UPDATE ON journal_entry BEGIN SELECT RAISE (ABORT, 'sealed: journal_entry'); END;
CREATE TRIGGER journal_entry_sealed_delete BEFORE DELETE ON journal_entry BEGIN SELECT RAISE (ABORT, 'sealed: journal_entry'); END;
CREATE TRIGGER before_image_sealed_update BEFORE UPDATE ON before_image BEGIN SELECT RAISE (ABORT, 'sealed: before_image'); END;
CREATE TRIGGER before_image_sealed_delete BEFORE DELETE ON before_image BEGIN SELECT RAISE (ABORT, 'sealed: before_image'); END;
