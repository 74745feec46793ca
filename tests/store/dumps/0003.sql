PRAGMA application_id = 1282371437;
PRAGMA user_version = 3;
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
    notes TEXT NOT NULL, comes_on TEXT, claim TEXT NOT NULL DEFAULT '',
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
, visit INTEGER REFERENCES visit (id)) STRICT;
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
CREATE VIRTUAL TABLE finder USING fts5 (folded, table_name UNINDEXED, row_id UNINDEXED, tokenize = 'trigram');
CREATE TABLE draft (
    form TEXT NOT NULL,
    who TEXT NOT NULL,
    subject TEXT NOT NULL,
    content TEXT NOT NULL CHECK (json_valid(content)),
    at TEXT NOT NULL,
    PRIMARY KEY (form, who, subject)
) STRICT, WITHOUT ROWID;
CREATE TABLE visit (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    version INTEGER NOT NULL CHECK (version > 0),
    card INTEGER NOT NULL REFERENCES card (id),
    began_at TEXT NOT NULL,
    ended_at TEXT,
    why TEXT NOT NULL,
    by TEXT NOT NULL
) STRICT;
CREATE TABLE way (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    version INTEGER NOT NULL CHECK (version > 0),
    card INTEGER NOT NULL REFERENCES card (id),
    name TEXT NOT NULL,
    repairs TEXT NOT NULL CHECK (json_valid(repairs)),
    words TEXT NOT NULL CHECK (json_valid(words)),
    currency TEXT NOT NULL,
    expected_min INTEGER NOT NULL,
    low_min INTEGER NOT NULL,
    high_min INTEGER NOT NULL,
    total_minor INTEGER NOT NULL,
    high_total_minor INTEGER NOT NULL,
    more_minor INTEGER NOT NULL,
    offered_on TEXT NOT NULL,
    chosen_on TEXT,
    chosen_by TEXT NOT NULL,
    estimate INTEGER REFERENCES estimate (id),
    planned TEXT NOT NULL CHECK (json_valid(planned)),
    withdrawn INTEGER NOT NULL CHECK (withdrawn IN (0, 1)),
    by TEXT NOT NULL,
    at TEXT NOT NULL
) STRICT;
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('counter', 4);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('setting', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('shop_file', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('mechanic', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('customer', 3);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('bike', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('ownership', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('card', 2);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('bike_feature', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('loom_fact', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('own_figure', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('symptom', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('finding', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('repair', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('reading', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('time_entry', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('part', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('part_wanted', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('stock_move', 2);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('waiver', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('ending', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('collection', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('call', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('visit', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('opened', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('attachment', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('recheck', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('estimate', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('estimate_line', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('way', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('go_ahead', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('document', 2);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('document_line', 2);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('document_tax', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('payment', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('allocation', 2);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('write_off', 1);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('journal_entry', 5);
INSERT INTO "sqlite_sequence" ("name", "seq") VALUES ('before_image', 49);
INSERT INTO "setting" ("id", "token", "version", "name", "value") VALUES (1, 'first.2', 1, 'name', 'Loom & Lamp');
INSERT INTO "shop_file" ("id", "token", "version", "name", "text") VALUES (1, 'first.3', 1, 'repairs/splice.toml', 'name = "splice"
');
INSERT INTO "counter" ("id", "token", "version", "series", "year", "last") VALUES (1, 'first.1', 2, 'card', 2026, 2);
INSERT INTO "counter" ("id", "token", "version", "series", "year", "last") VALUES (2, 'first.30', 1, 'estimate', 2026, 1);
INSERT INTO "counter" ("id", "token", "version", "series", "year", "last") VALUES (3, 'first.35', 1, 'invoice', 2026, 1);
INSERT INTO "counter" ("id", "token", "version", "series", "year", "last") VALUES (4, 'first.37', 1, 'credit note', 2026, 1);
INSERT INTO "journal_entry" ("id", "token", "at", "who", "deed", "words", "card", "subject_table", "subject_id", "undoes") VALUES (1, 'first', '2026-03-09T09:30:00Z', 'Anna', 'test', '', NULL, 'card', 2, NULL);
INSERT INTO "journal_entry" ("id", "token", "at", "who", "deed", "words", "card", "subject_table", "subject_id", "undoes") VALUES (2, 'second', '2026-03-09T09:30:00Z', 'Ben', 'test', '', NULL, 'customer', 2, NULL);
INSERT INTO "journal_entry" ("id", "token", "at", "who", "deed", "words", "card", "subject_table", "subject_id", "undoes") VALUES (3, 'third', '2026-03-09T09:30:00Z', 'Ben', 'test', '', NULL, 'customer', 2, NULL);
INSERT INTO "journal_entry" ("id", "token", "at", "who", "deed", "words", "card", "subject_table", "subject_id", "undoes") VALUES (4, 'fourth', '2026-03-09T09:30:00Z', 'Anna', 'test', '', NULL, 'customer', 3, NULL);
INSERT INTO "journal_entry" ("id", "token", "at", "who", "deed", "words", "card", "subject_table", "subject_id", "undoes") VALUES (5, 'b1ad53df068b4cd78c93da405b2f6daa', '2026-03-09T09:30:00Z', 'Anna', 'undo', '', NULL, 'journal_entry', 4, 4);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (1, 'first.47', 1, 'counter', 1, NULL, 2);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (2, 'first.48', 1, 'setting', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (3, 'first.49', 1, 'shop_file', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (4, 'first.50', 1, 'mechanic', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (5, 'first.51', 1, 'customer', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (6, 'first.52', 1, 'bike', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (7, 'first.53', 1, 'ownership', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (8, 'first.54', 1, 'card', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (9, 'first.55', 1, 'card', 2, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (10, 'first.56', 1, 'bike_feature', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (11, 'first.57', 1, 'loom_fact', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (12, 'first.58', 1, 'own_figure', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (13, 'first.59', 1, 'symptom', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (14, 'first.60', 1, 'finding', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (15, 'first.61', 1, 'repair', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (16, 'first.62', 1, 'reading', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (17, 'first.63', 1, 'time_entry', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (18, 'first.64', 1, 'part', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (19, 'first.65', 1, 'part_wanted', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (20, 'first.66', 1, 'stock_move', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (21, 'first.67', 1, 'stock_move', 2, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (22, 'first.68', 1, 'waiver', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (23, 'first.69', 1, 'ending', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (24, 'first.70', 1, 'collection', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (25, 'first.71', 1, 'call', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (26, 'first.72', 1, 'visit', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (27, 'first.73', 1, 'opened', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (28, 'first.74', 1, 'attachment', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (29, 'first.75', 1, 'recheck', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (30, 'first.76', 1, 'counter', 2, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (31, 'first.77', 1, 'estimate', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (32, 'first.78', 1, 'estimate_line', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (33, 'first.79', 1, 'way', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (34, 'first.80', 1, 'go_ahead', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (35, 'first.81', 1, 'counter', 3, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (36, 'first.82', 1, 'document', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (37, 'first.83', 1, 'counter', 4, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (38, 'first.84', 1, 'document', 2, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (39, 'first.85', 1, 'document_line', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (40, 'first.86', 1, 'document_line', 2, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (41, 'first.87', 1, 'document_tax', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (42, 'first.88', 1, 'payment', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (43, 'first.89', 1, 'allocation', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (44, 'first.90', 1, 'allocation', 2, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (45, 'first.91', 1, 'write_off', 1, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (46, 'second.3', 2, 'customer', 2, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (47, 'third.2', 3, 'customer', 2, '{"address": "", "email": "", "id": 2, "kind": "private", "name": "[/] O''Brien", "notes": "a\nb", "phone": "", "reminders": 1, "tax_number": "", "terms_days": 0, "token": "second.1", "version": 1}', 2);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (48, 'fourth.3', 4, 'customer', 3, NULL, 1);
INSERT INTO "before_image" ("id", "token", "entry", "table_name", "row_id", "image", "after_version") VALUES (49, 'b1ad53df068b4cd78c93da405b2f6daa.2', 5, 'customer', 3, '{"address": "", "email": "", "id": 3, "kind": "private", "name": "taken back", "notes": "", "phone": "", "reminders": 1, "tax_number": "", "terms_days": 0, "token": "fourth.1", "version": 1}', NULL);
INSERT INTO "mechanic" ("id", "token", "version", "name", "key", "active") VALUES (1, 'first.4', 1, 'Anna', 'a', 1);
INSERT INTO "customer" ("id", "token", "version", "name", "phone", "email", "address", "kind", "tax_number", "terms_days", "reminders", "notes") VALUES (1, 'first.5', 1, 'Zoë Quill', '01 555 0142', 'zoe@example.org', '1 Lane
Town', 'account', 'X1', 14, 0, 'rings first');
INSERT INTO "customer" ("id", "token", "version", "name", "phone", "email", "address", "kind", "tax_number", "terms_days", "reminders", "notes") VALUES (2, 'second.1', 2, '[/] O''Brien', '01 555 0199', '', '', 'private', '', 0, 1, 'a
b');
INSERT INTO "ownership" ("id", "token", "version", "bike", "customer", "role", "since", "until") VALUES (1, 'first.7', 1, 1, 1, 'rider', '2026-03-09', '2026-03-09');
INSERT INTO "bike" ("id", "token", "version", "make", "model", "year", "registration", "vin", "colour", "odometer_unit", "earth", "volts", "battery_kind", "battery_ah", "wheelbase_mm", "notes") VALUES (1, 'first.6', 1, 'Harrow', 'Trail 125', 1981, 'AB 12 CDE', 'HT125-000412', 'green', 'mi', 'positive', 6, 'flooded', 5.5, 1310, 'kick only');
INSERT INTO "bike_feature" ("id", "token", "version", "bike", "feature", "answer", "card", "at") VALUES (1, 'first.10', 1, 1, 'flasher', 'electronic', 2, '2026-03-09T09:30:00Z');
INSERT INTO "loom_fact" ("id", "token", "bike", "model_of", "card", "deed", "facts", "words", "who", "at") VALUES (1, 'first.11', 1, 'Harrow Trail', 2, 'wire', '{"from": "fuse", "to": "plug"}', 'moved by an earlier hand', 'Anna', '2026-03-09T09:30:00Z');
INSERT INTO "own_figure" ("id", "token", "bike", "model_of", "kind", "least", "most", "unit", "source", "who", "at") VALUES (1, 'first.12', 1, 'Harrow Trail', 'regulated volts', 6.8, 7.4, 'V', 'plate on the unit', 'Anna', '2026-03-09T09:30:00Z');
INSERT INTO "card" ("id", "token", "version", "number", "kind", "bike", "unit", "customer", "payer", "rider", "complaint", "came_at", "came_how", "odometer", "promised_on", "marks", "keys", "stands", "road_test", "call_out", "distance", "excess_minor", "comeback_of", "comeback_charged", "notes", "comes_on", "claim") VALUES (1, 'first.8', 1, '26-0001', 'bike', 1, '', NULL, NULL, NULL, 'dead horn', '2026-03-09T09:30:00Z', '', NULL, NULL, '', '', '', NULL, 0, NULL, NULL, NULL, 1, '', NULL, '');
INSERT INTO "card" ("id", "token", "version", "number", "kind", "bike", "unit", "customer", "payer", "rider", "complaint", "came_at", "came_how", "odometer", "promised_on", "marks", "keys", "stands", "road_test", "call_out", "distance", "excess_minor", "comeback_of", "comeback_charged", "notes", "comes_on", "claim") VALUES (2, 'first.9', 1, '26-0002', 'bike', 1, '', 1, 1, 1, 'does not charge', '2026-03-09T09:30:00Z', 'trailer', 23412, '2026-03-09', 'scratch left', '2', 'bay 3', 1, 1, 12.5, 10000, 1, 0, 'alarm under the seat', '2026-03-09', 'CL-77');
INSERT INTO "symptom" ("id", "token", "card", "kind", "load", "words", "when", "at") VALUES (1, 'first.13', 2, 'won''t go off', 'horn', 'sounds alone', 'wet', '2026-03-09T09:30:00Z');
INSERT INTO "reading" ("id", "token", "card", "bike", "kind", "value", "unit", "words", "place", "side", "state", "conditions", "phase", "repair", "by", "at") VALUES (1, 'first.16', 2, 1, 'battery volts', 6.31, 'V', 'steady', 'battery', 'in', 'key on', '{"rpm": "3000"}', 'after', 1, 'Anna', '2026-03-09T09:30:00Z');
INSERT INTO "finding" ("id", "token", "version", "card", "words", "circuit", "place", "zone", "fault", "left", "told_unsafe", "by", "at") VALUES (1, 'first.14', 1, 2, 'green plug', 'charging', 'plug C4', 'under tank', 'corroded', 'customer said no', 1, 'Anna', '2026-03-09T09:30:00Z');
INSERT INTO "go_ahead" ("id", "token", "card", "what", "estimate", "covers", "who", "how", "limit_minor", "limit_min", "tolerance", "tolerance_percent", "words", "by", "at") VALUES (1, 'first.34', 2, 'work', 1, '[1]', 'Zoë', 'phone', 5000, 90, 'percent', 10, '', '', '2026-03-09T09:30:00Z');
INSERT INTO "waiver" ("id", "token", "card", "need", "reason", "by", "at") VALUES (1, 'first.22', 2, 'go-ahead', 'own bike', 'Anna', '2026-03-09T09:30:00Z');
INSERT INTO "ending" ("id", "token", "card", "kind", "words", "told_unsafe", "by", "at") VALUES (1, 'first.23', 2, 'can''t make it do it', 'dry now', 1, '', '2026-03-09T09:30:00Z');
INSERT INTO "collection" ("id", "token", "card", "to_whom", "odometer", "override", "by", "at") VALUES (1, 'first.24', 2, 'Zoë', 23415, 'on account', '', '2026-03-09T09:30:00Z');
INSERT INTO "call" ("id", "token", "card", "who", "inward", "outcome", "words", "by", "at") VALUES (1, 'first.25', 2, 'Zoë', 1, 'left word', 'ring', '', '2026-03-09T09:30:00Z');
INSERT INTO "opened" ("id", "token", "card", "access", "refitted", "by", "at", "visit") VALUES (1, 'first.27', 2, 'tank', 1, 'Anna', '2026-03-09T09:30:00Z', 1);
INSERT INTO "attachment" ("id", "token", "card", "bike", "repair", "name", "mime", "content", "sha256", "words", "by", "at") VALUES (1, 'first.28', 2, 1, 1, 'plug.png', 'image/png', X'000102030405060708090A0B0C0D0E0F101112131415161718191A1B1C1D1E1F202122232425262728292A2B2C2D2E2F303132333435363738393A3B3C3D3E3F404142434445464748494A4B4C4D4E4F505152535455565758595A5B5C5D5E5F606162636465666768696A6B6C6D6E6F707172737475767778797A7B7C7D7E7F808182838485868788898A8B8C8D8E8F909192939495969798999A9B9C9D9E9FA0A1A2A3A4A5A6A7A8A9AAABACADAEAFB0B1B2B3B4B5B6B7B8B9BABBBCBDBEBFC0C1C2C3C4C5C6C7C8C9CACBCCCDCECFD0D1D2D3D4D5D6D7D8D9DADBDCDDDEDFE0E1E2E3E4E5E6E7E8E9EAEBECEDEEEFF0F1F2F3F4F5F6F7F8F9FAFBFCFDFEFF', '40aff2e9d2d8922e47afd4648e6967497158785fbd1da870e7110266bf944880', 'green', 'Anna', '2026-03-09T09:30:00Z');
INSERT INTO "repair" ("id", "token", "version", "card", "finding", "rule", "asked", "proves", "words", "circuit", "wire_from", "wire_to", "mm", "mm_end", "size_mm2", "colour", "tracer", "colour_code", "splice", "terminal", "connector_old", "connector_new", "keeps_ways", "sleeve", "length_used_mm", "pull_n", "pull_tested", "started_at", "done_at", "done_by", "dropped", "sent_out_to") VALUES (1, 'first.15', 1, 2, 1, 'splice', '{"where": "under tank"}', '["charging"]', 'new length in', 'charging', 'rectifier', 'battery', 240, 'battery', 2.5, 'white', 'green', 'W/G', 'crimped', '6.3', 'C4', 'C4b', 1, '9 mm', 300, 120.0, 1, '2026-03-09T09:30:00Z', '2026-03-09T10:10:00Z', 'Anna', '', 'winder');
INSERT INTO "time_entry" ("id", "token", "version", "card", "repair", "mechanic", "kind", "on_at", "off_at", "typed", "words") VALUES (1, 'first.17', 1, 2, 1, 1, 'repair', '2026-03-09T09:30:00Z', '2026-03-09T10:10:00Z', 1, '');
INSERT INTO "recheck" ("id", "token", "version", "card", "bike", "reason", "anchor_on", "days", "distance", "due_on", "due_odometer", "state", "outcome", "booked_card", "by", "at") VALUES (1, 'first.29', 1, 2, 1, 'charging', '2026-03-09', 28, 500, '2026-03-09', 23915, 'booked', '', 2, 'Anna', '2026-03-09T09:30:00Z');
INSERT INTO "part" ("id", "token", "version", "code", "name", "unit", "price", "cost", "tax_rate", "supplier", "place", "least", "active") VALUES (1, 'first.18', 1, 'TERM-6.3', 'Blade terminal', 'piece', '0.35', '0.1234', '13.5', 'Stores', 'drawer 4', '50', 1);
INSERT INTO "stock_move" ("id", "token", "part", "qty", "kind", "card", "repair", "wanted", "unit_cost", "words", "by", "at") VALUES (1, 'first.20', 1, '100', 'arrived', NULL, NULL, NULL, NULL, '', '', '2026-03-09T09:30:00Z');
INSERT INTO "stock_move" ("id", "token", "part", "qty", "kind", "card", "repair", "wanted", "unit_cost", "words", "by", "at") VALUES (2, 'first.21', 1, '-4', 'used', 2, 1, 1, '0.12', '', 'Anna', '2026-03-09T09:30:00Z');
INSERT INTO "part_wanted" ("id", "token", "version", "card", "part", "words", "qty", "unit", "unit_price", "tax_rate", "customers_own", "exchange", "repair", "estimate", "state", "supplier", "ordered_on", "expected_on", "by", "at") VALUES (1, 'first.19', 1, 2, 1, 'terminals', '4', 'piece', '0.35', '20', 1, 1, 1, NULL, 'ordered', 'Stores', '2026-03-09', '2026-03-09', 'Anna', '2026-03-09T09:30:00Z');
INSERT INTO "estimate" ("id", "token", "card", "number", "revision", "made_on", "fixed_price", "currency", "covers", "least_min", "likely_min", "most_min", "expected_min", "low_min", "high_min", "net_minor", "tax_minor", "total_minor", "high_total_minor", "wire_mm", "frozen", "words", "by", "at") VALUES (1, 'first.31', 2, 'EST-26-0001', 1, '2026-03-09', 1, 'EUR', '[1]', 20, 30, 60, 33, 22, 55, 3000, 600, 3600, 6000, '{"W/G 2.5": 300}', '{"rate": "60", "rules": {"splice": "..."}}', '', '', '2026-03-09T09:30:00Z');
INSERT INTO "estimate_line" ("id", "token", "estimate", "position", "repair", "kind", "words", "qty", "unit", "unit_price", "base_qty", "net_minor", "tax_category", "tax_rate", "book_min", "least_min", "likely_min", "most_min", "part", "why") VALUES (1, 'first.32', 1, 1, 1, 'labour', 'splice', '0.5', 'h', '60', '1', 3000, 'S', '20', 30, 20, 30, 60, 1, '30 min');
INSERT INTO "document" ("id", "token", "kind", "number", "series", "year", "sequence", "card", "customer", "issued_on", "supply_on", "due_on", "currency", "seller", "buyer", "corrects", "line_total_minor", "allowance_total_minor", "charge_total_minor", "net_minor", "tax_minor", "total_minor", "prepaid_minor", "rounding_minor", "rounding_why", "payable_minor", "words", "by", "at") VALUES (1, 'first.36', 'invoice', 'INV-26-0001', 'invoice', 2026, 1, 2, 1, '2026-03-09', '2026-03-09', '2026-03-09', 'EUR', '{"name": "Loom & Lamp"}', '{"name": "Zoë Quill"}', NULL, 3000, 0, 0, 3000, 600, 3600, 0, 0, '', 3600, '', '', '2026-03-09T09:30:00Z');
INSERT INTO "document" ("id", "token", "kind", "number", "series", "year", "sequence", "card", "customer", "issued_on", "supply_on", "due_on", "currency", "seller", "buyer", "corrects", "line_total_minor", "allowance_total_minor", "charge_total_minor", "net_minor", "tax_minor", "total_minor", "prepaid_minor", "rounding_minor", "rounding_why", "payable_minor", "words", "by", "at") VALUES (2, 'first.38', 'credit note', 'CRN-26-0001', 'credit note', 2026, 1, 2, 1, '2026-03-09', '2026-03-09', '2026-03-09', 'EUR', '{"name": "Loom & Lamp"}', '{"name": "Zoë Quill"}', 1, 3000, 0, 0, 3000, 600, 3600, 0, 0, '', 3600, '', '', '2026-03-09T09:30:00Z');
INSERT INTO "document_line" ("id", "token", "document", "position", "kind", "words", "qty", "unit", "unit_price", "base_qty", "net_minor", "tax_category", "tax_rate", "exemption", "repair", "part", "sets_off", "gives_back") VALUES (1, 'first.39', 1, 1, 'labour', 'splice', '0.5', 'h', '60', '1', 3000, 'S', '20', '', 1, 1, 1, NULL);
INSERT INTO "document_line" ("id", "token", "document", "position", "kind", "words", "qty", "unit", "unit_price", "base_qty", "net_minor", "tax_category", "tax_rate", "exemption", "repair", "part", "sets_off", "gives_back") VALUES (2, 'first.40', 2, 1, 'labour', 'splice', '0.5', 'h', '60', '1', 3000, 'S', '20', '', 1, 1, 1, 1);
INSERT INTO "document_tax" ("id", "token", "document", "category", "rate", "taxable_minor", "tax_minor", "exemption", "reason") VALUES (1, 'first.41', 1, 'S', '20', 3000, 600, '', '');
INSERT INTO "payment" ("id", "token", "customer", "card", "amount_minor", "currency", "method", "received_on", "words", "by", "at") VALUES (1, 'first.42', 1, 2, 3600, 'EUR', 'cash', '2026-03-09', '', '', '2026-03-09T09:30:00Z');
INSERT INTO "allocation" ("id", "token", "payment", "credit_note", "document", "amount_minor", "at") VALUES (1, 'first.43', 1, NULL, 1, 3000, '2026-03-09T09:30:00Z');
INSERT INTO "allocation" ("id", "token", "payment", "credit_note", "document", "amount_minor", "at") VALUES (2, 'first.44', NULL, 2, 1, 300, '2026-03-09T09:30:00Z');
INSERT INTO "write_off" ("id", "token", "document", "amount_minor", "reason", "by", "at") VALUES (1, 'first.45', 1, 300, 'a long friendship', '', '2026-03-09T09:30:00Z');
INSERT INTO "finder" ("rowid", "folded", "table_name", "row_id") VALUES (8, 'zoe quill 015550142 zoe example org rings first', 'customer', 1);
INSERT INTO "finder" ("rowid", "folded", "table_name", "row_id") VALUES (9, 'ab12cde ht125000412 harrow trail 125 1981 kick only', 'bike', 1);
INSERT INTO "finder" ("rowid", "folded", "table_name", "row_id") VALUES (10, '26-0001 260001 dead horn    ', 'card', 1);
INSERT INTO "finder" ("rowid", "folded", "table_name", "row_id") VALUES (11, 'term 6 3 term63 blade terminal', 'part', 1);
INSERT INTO "finder" ("rowid", "folded", "table_name", "row_id") VALUES (16, 'obrien 015550199  a b', 'customer', 2);
INSERT INTO "finder" ("rowid", "folded", "table_name", "row_id") VALUES (18, '26-0002 260002 does not charge  alarm under the seat cl 77 cl77', 'card', 2);
INSERT INTO "visit" ("id", "token", "version", "card", "began_at", "ended_at", "why", "by") VALUES (1, 'first.26', 1, 2, '2026-03-09T09:30:00Z', '2026-03-09T09:30:00Z', 'the plug came later', 'Anna');
INSERT INTO "way" ("id", "token", "version", "card", "name", "repairs", "words", "currency", "expected_min", "low_min", "high_min", "total_minor", "high_total_minor", "more_minor", "offered_on", "chosen_on", "chosen_by", "estimate", "planned", "withdrawn", "by", "at") VALUES (1, 'first.33', 1, 2, 'new plug', '["connector:ways=3"]', '["Connector replaced"]', 'EUR', 40, 30, 60, 4800, 7200, 4800, '2026-03-09', '2026-03-09', 'Zoë', 1, '[1]', 1, 'Anna', '2026-03-09T09:30:00Z');
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
CREATE UNIQUE INDEX time_entry_running ON time_entry (mechanic) WHERE off_at IS NULL;
CREATE UNIQUE INDEX recheck_open ON recheck (bike, reason) WHERE state IN ('open', 'booked');
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
CREATE INDEX visit_by_card ON visit (card);
CREATE INDEX opened_by_visit ON opened (visit);
CREATE INDEX way_by_card ON way (card);
CREATE INDEX way_by_estimate ON way (estimate);
