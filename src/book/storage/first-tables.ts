/** The tables of the first version of a book. Published: what changed since then is a later step of the migrations. */
export const FIRST_TABLES = `
  CREATE TABLE column_map (
    id INTEGER PRIMARY KEY,
    sha256 TEXT NOT NULL UNIQUE,
    name TEXT NOT NULL,
    body TEXT NOT NULL
  ) STRICT;

  CREATE TABLE file (
    id INTEGER PRIMARY KEY,
    sha256 TEXT NOT NULL,
    column_map_id INTEGER REFERENCES column_map (id),
    name TEXT NOT NULL,
    bytes INTEGER NOT NULL,
    read_as TEXT NOT NULL,
    assumptions TEXT NOT NULL
  ) STRICT;
  CREATE UNIQUE INDEX file_read_one_way ON file (sha256, ifnull(column_map_id, 0));

  -- Each time that a file brought something in.
  CREATE TABLE reading (
    id INTEGER PRIMARY KEY,
    file_id INTEGER NOT NULL REFERENCES file (id),
    at TEXT NOT NULL,
    rows INTEGER NOT NULL,
    taken INTEGER NOT NULL,
    known INTEGER NOT NULL,
    amended INTEGER NOT NULL,
    quarantined INTEGER NOT NULL,
    not_samples INTEGER NOT NULL,
    CHECK (rows = taken + known + amended + quarantined + not_samples)
  ) STRICT;

  CREATE TABLE cart (
    id INTEGER PRIMARY KEY,
    cart TEXT NOT NULL UNIQUE,
    note TEXT
  ) STRICT;

  -- A circuit that no carts file has described yet has no body.
  CREATE TABLE circuit (
    id INTEGER PRIMARY KEY,
    cart_id INTEGER NOT NULL REFERENCES cart (id),
    circuit TEXT NOT NULL,
    body TEXT,
    UNIQUE (cart_id, circuit)
  ) STRICT;

  CREATE VIEW element AS
    SELECT circuit.id AS circuit_id, body ->> '$.element.position' AS position, body -> '$.element' AS body
    FROM circuit WHERE body IS NOT NULL;

  CREATE VIEW event AS
    SELECT circuit.id AS circuit_id, value ->> '$.on' AS day, value ->> '$.kind' AS kind, value ->> '$.note' AS note
    FROM circuit, json_each(circuit.body, '$.events') WHERE body IS NOT NULL;

  CREATE TABLE requirements (
    id INTEGER PRIMARY KEY,
    sha256 TEXT NOT NULL UNIQUE,
    document TEXT NOT NULL,
    revision TEXT NOT NULL,
    kept_at TEXT NOT NULL,
    body TEXT NOT NULL
  ) STRICT;

  -- counts: cumulative counts in µm(c) as {"size": count}, standing for count_volume_ml. more: what has no column.
  -- rows: the rows of the file as a JSON array.
  CREATE TABLE sample (
    id INTEGER PRIMARY KEY,
    circuit_id INTEGER NOT NULL REFERENCES circuit (id),
    sample TEXT NOT NULL,
    drawn_on TEXT NOT NULL,
    drawn_time TEXT,
    fluid TEXT,
    count_volume_ml REAL,
    counts TEXT,
    water_ppm REAL,
    water_limit TEXT,
    acid_mg_koh_per_g REAL,
    acid_limit TEXT,
    viscosity_40_mm2_per_s REAL,
    viscosity_40_limit TEXT,
    more TEXT,
    file_id INTEGER NOT NULL REFERENCES file (id),
    sheet TEXT,
    rows TEXT NOT NULL,
    UNIQUE (circuit_id, sample)
  ) STRICT;

  CREATE VIEW particle_count AS
    SELECT sample.id AS sample_id, CAST(json_each.key AS REAL) AS size_um_c, json_each.value AS count,
      json_each.value / count_volume_ml AS per_ml
    FROM sample, json_each(sample.counts) WHERE counts IS NOT NULL;

  -- What a sample said before another file corrected it.
  CREATE TABLE amendment (
    id INTEGER PRIMARY KEY,
    sample_id INTEGER NOT NULL REFERENCES sample (id),
    at TEXT NOT NULL,
    file_id INTEGER NOT NULL REFERENCES file (id),
    rows TEXT NOT NULL,
    earlier TEXT NOT NULL,
    earlier_file_id INTEGER NOT NULL REFERENCES file (id)
  ) STRICT;
  CREATE INDEX amendment_of_sample ON amendment (sample_id);

  CREATE TABLE quarantine (
    id INTEGER PRIMARY KEY,
    file_id INTEGER NOT NULL REFERENCES file (id),
    sheet TEXT,
    row INTEGER NOT NULL,
    text TEXT NOT NULL,
    issues TEXT NOT NULL,
    cart TEXT,
    circuit TEXT,
    drawn_on TEXT,
    -- The file that brought the corrected row, or said that it is no result.
    settled_by INTEGER REFERENCES file (id)
  ) STRICT;
  CREATE INDEX quarantine_of_file ON quarantine (file_id, row);

  CREATE TABLE other_row (
    file_id INTEGER NOT NULL REFERENCES file (id),
    sheet TEXT,
    row INTEGER NOT NULL,
    why TEXT NOT NULL
  ) STRICT;
  CREATE INDEX other_row_of_file ON other_row (file_id, row);

  -- The text of all rows, some hundreds together, as a deflated JSON array.
  CREATE TABLE row_text (
    file_id INTEGER NOT NULL REFERENCES file (id),
    sheet TEXT NOT NULL,
    first_row INTEGER NOT NULL,
    body BLOB NOT NULL,
    PRIMARY KEY (file_id, sheet, first_row)
  ) STRICT, WITHOUT ROWID;
  `;
