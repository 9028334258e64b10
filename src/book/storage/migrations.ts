import { FIRST_TABLES } from "./first-tables.js";

/** Marks a database file as a sample book ("silt" in ASCII). */
export const BOOK_APPLICATION_ID = 0x73696c74;

/**
 * The steps that bring a book from each version of its tables to the next. A step that has been published is never
 * changed; a new version is a new step.
 */
export const MIGRATIONS: readonly string[] = [
  FIRST_TABLES,
  `
  -- What verdicts rest on, each piece once: a circuit, a requirement, a sample, and the rest of a case, as deflated JSON.
  CREATE TABLE judged_input (
    sha256 TEXT PRIMARY KEY,
    body BLOB NOT NULL
  ) STRICT, WITHOUT ROWID;

  -- inputs: [{"role", "sha256"}] in order. inputs_sha256: of that text. result: the verdict as deflated canonical JSON.
  CREATE TABLE verdict (
    id INTEGER PRIMARY KEY,
    at TEXT NOT NULL,
    judged_on TEXT NOT NULL,
    cart TEXT NOT NULL,
    circuit TEXT NOT NULL,
    verdict TEXT NOT NULL,
    document TEXT NOT NULL,
    revision TEXT NOT NULL,
    version TEXT NOT NULL,
    inputs TEXT NOT NULL,
    inputs_sha256 TEXT NOT NULL,
    result_sha256 TEXT NOT NULL,
    result BLOB NOT NULL,
    UNIQUE (inputs_sha256, document, revision, version)
  ) STRICT;
  CREATE INDEX verdict_of_circuit ON verdict (cart, circuit, judged_on);

  -- What a person decided against a verdict. The verdict stays as it was computed.
  CREATE TABLE override (
    id INTEGER PRIMARY KEY,
    verdict_id INTEGER NOT NULL REFERENCES verdict (id),
    at TEXT NOT NULL,
    person TEXT NOT NULL CHECK (trim(person) <> ''),
    decision TEXT NOT NULL,
    reason TEXT NOT NULL CHECK (trim(reason) <> '')
  ) STRICT;
  CREATE INDEX override_of_verdict ON override (verdict_id);
  `,
  `
  -- What a person decided about a circuit. A decision is made on a verdict, except that a circuit may be stopped before it
  -- has one. Nothing is taken out of these tables: a decision ends by a row in lifting, or after its last day.
  ALTER TABLE override RENAME TO override_of_version_2;
  DROP INDEX override_of_verdict;
  CREATE TABLE override (
    id INTEGER PRIMARY KEY,
    cart TEXT NOT NULL,
    circuit TEXT NOT NULL,
    verdict_id INTEGER REFERENCES verdict (id),
    at TEXT NOT NULL,
    person TEXT NOT NULL CHECK (trim(person) <> ''),
    second TEXT CHECK (trim(second) <> ''),
    decision TEXT NOT NULL,
    reason TEXT NOT NULL CHECK (trim(reason) <> ''),
    -- The last day of a decision that is milder than its verdict.
    until TEXT
  ) STRICT;
  CREATE INDEX override_of_verdict ON override (verdict_id);
  INSERT INTO override (id, cart, circuit, verdict_id, at, person, decision, reason)
    SELECT earlier.id, cart, circuit, verdict_id, earlier.at, person, decision, reason
    FROM override_of_version_2 AS earlier JOIN verdict ON verdict.id = verdict_id;
  DROP TABLE override_of_version_2;

  CREATE TABLE lifting (
    override_id INTEGER PRIMARY KEY REFERENCES override (id),
    at TEXT NOT NULL,
    person TEXT NOT NULL CHECK (trim(person) <> ''),
    reason TEXT NOT NULL CHECK (trim(reason) <> '')
  ) STRICT;
  `,
  `
  -- What the correcting report itself said; null where it came in before this was kept.
  ALTER TABLE amendment ADD COLUMN report TEXT;

  -- What a carts file said last of a circuit that a later file left out, for when it comes back.
  ALTER TABLE circuit ADD COLUMN former TEXT;

  -- The number of the sample, and what the row reports as {"measurand": value}; null for what cannot be read.
  ALTER TABLE quarantine ADD COLUMN sample TEXT;
  ALTER TABLE quarantine ADD COLUMN reported TEXT;
  CREATE INDEX quarantine_of_sample ON quarantine (sample) WHERE settled_by IS NULL;

  -- What a person decided about a quarantined row. Nothing is deleted: the last decision counts.
  CREATE TABLE quarantine_decision (
    id INTEGER PRIMARY KEY,
    file_sha256 TEXT NOT NULL,
    sheet TEXT NOT NULL,
    row INTEGER NOT NULL,
    decision TEXT NOT NULL CHECK (decision IN ('settled', 'discarded', 'reopened')),
    person TEXT NOT NULL CHECK (trim(person) <> ''),
    reason TEXT NOT NULL CHECK (trim(reason) <> ''),
    at TEXT NOT NULL
  ) STRICT;
  CREATE INDEX decision_of_row ON quarantine_decision (file_sha256, row);

  -- Every quarantined row with its file and the last decision about it.
  CREATE VIEW quarantined_row AS
    SELECT quarantine.*, file.name AS file, file.sha256,
      (SELECT max(id) FROM quarantine_decision WHERE file_sha256 = file.sha256 AND quarantine_decision.row = quarantine.row
         AND quarantine_decision.sheet = ifnull(quarantine.sheet, '')) AS decision_id
    FROM quarantine JOIN file ON file.id = file_id;

  -- The rows that wait for a person.
  CREATE VIEW open_row AS
    SELECT quarantined_row.* FROM quarantined_row LEFT JOIN quarantine_decision ON quarantine_decision.id = decision_id
    WHERE settled_by IS NULL AND ifnull(decision, 'reopened') = 'reopened';
  `,
  `
  -- Carts of other bases: their rows stay in quarantine and wait for nobody, as long as a carts file lists them.
  CREATE TABLE other_cart (cart TEXT PRIMARY KEY) STRICT, WITHOUT ROWID;

  DROP VIEW open_row;
  CREATE VIEW open_row AS
    SELECT quarantined_row.* FROM quarantined_row LEFT JOIN quarantine_decision ON quarantine_decision.id = decision_id
    WHERE settled_by IS NULL AND ifnull(decision, 'reopened') = 'reopened'
      AND ifnull(cart, '') NOT IN (SELECT cart FROM other_cart);
  `,
  `
  -- Every step that wrote something into the book, each with the hash of the one before; see src/book/chain.
  CREATE TABLE entry (
    number INTEGER PRIMARY KEY,
    at TEXT NOT NULL,
    kind TEXT NOT NULL,
    -- Who did it; null where that was not stated.
    by TEXT,
    subject TEXT NOT NULL,
    body_sha256 TEXT NOT NULL,
    previous TEXT NOT NULL,
    hash TEXT NOT NULL
  ) STRICT;

  -- What an entry wrote into one table: a range of new rows and a JSON array of the keys of others.
  CREATE TABLE piece (
    of_table TEXT NOT NULL,
    entry INTEGER NOT NULL REFERENCES entry (number),
    first INTEGER NOT NULL,
    last INTEGER NOT NULL,
    others TEXT NOT NULL,
    rows INTEGER NOT NULL,
    sha256 TEXT NOT NULL,
    each TEXT NOT NULL,
    PRIMARY KEY (of_table, entry)
  ) STRICT, WITHOUT ROWID;

  -- A row as it was before an entry wrote it: as JSON, or null where it was not there.
  CREATE TABLE replaced (
    of_table TEXT NOT NULL,
    key ANY NOT NULL,
    entry INTEGER NOT NULL REFERENCES entry (number),
    former TEXT,
    PRIMARY KEY (of_table, key, entry)
  ) STRICT, WITHOUT ROWID;

  -- A sum over the values of the row and the names of its circuit, to notice damage when it is read.
  ALTER TABLE sample ADD COLUMN row_check INTEGER;
  `,
  `
  -- A file that was taken back. It counts again from its next reading on.
  CREATE TABLE withdrawal (
    id INTEGER PRIMARY KEY,
    file_id INTEGER NOT NULL REFERENCES file (id),
    -- The last reading of any file before it.
    last_reading INTEGER NOT NULL REFERENCES reading (id),
    at TEXT NOT NULL,
    person TEXT NOT NULL CHECK (trim(person) <> ''),
    reason TEXT NOT NULL CHECK (trim(reason) <> '')
  ) STRICT;

  -- What the file had reported of each sample, as JSON; and a JSON array of other files that name the sample, and of which
  -- the book kept nothing because this one had said the same, or otherwise.
  CREATE TABLE withdrawn_report (
    id INTEGER PRIMARY KEY,
    withdrawal_id INTEGER NOT NULL REFERENCES withdrawal (id),
    report TEXT NOT NULL,
    also_in TEXT NOT NULL
  ) STRICT;

  CREATE VIEW standing_withdrawal AS
    SELECT * FROM withdrawal
    WHERE last_reading >= (SELECT max(id) FROM reading WHERE reading.file_id = withdrawal.file_id);

  -- Files that name a withdrawn sample, none of which has been read since.
  CREATE VIEW awaited_file AS
    SELECT report.id AS report_id, file.id AS file_id, file.name
    FROM withdrawn_report AS report JOIN standing_withdrawal ON standing_withdrawal.id = withdrawal_id, json_each(also_in)
    JOIN file ON file.id = json_each.value
    WHERE file.id NOT IN (SELECT file_id FROM standing_withdrawal)
      AND NOT EXISTS (SELECT 1 FROM reading, json_each(report.also_in) AS named
        WHERE reading.file_id = named.value AND reading.id > last_reading);

  DROP VIEW open_row;
  CREATE VIEW open_row AS
    SELECT quarantined_row.* FROM quarantined_row LEFT JOIN quarantine_decision ON quarantine_decision.id = decision_id
    WHERE settled_by IS NULL AND ifnull(decision, 'reopened') = 'reopened'
      AND ifnull(cart, '') NOT IN (SELECT cart FROM other_cart)
      AND file_id NOT IN (SELECT file_id FROM standing_withdrawal);
  `,
  `
  -- The entries of other books that were brought in: all that each of them holds up to here is known.
  CREATE TABLE brought_entry (
    id INTEGER PRIMARY KEY,
    book TEXT NOT NULL,
    number INTEGER NOT NULL,
    at TEXT NOT NULL,
    kind TEXT NOT NULL,
    by TEXT,
    subject TEXT NOT NULL,
    body_sha256 TEXT NOT NULL,
    previous TEXT NOT NULL,
    hash TEXT NOT NULL UNIQUE
  ) STRICT;
  `,
];

/** The version of the tables with which the chain began. */
export const CHAIN_VERSION = 6;
