-- The family's year. Nothing is ever deleted: what was taken away has a date in `removed`, and the views named
-- current_... leave it out, together with everything that hangs on it. Dates are ISO 8601; times are UTC.

CREATE TABLE students (
    id INTEGER PRIMARY KEY,
    name TEXT NOT NULL CHECK (trim(name) <> ''),
    removed TEXT
) STRICT;
CREATE UNIQUE INDEX one_student_of_a_name ON students (name COLLATE NOCASE) WHERE removed IS NULL;

-- A child's grade in a school year, such as 2025-26. Grade 0 is kindergarten.
CREATE TABLE enrolments (
    id INTEGER PRIMARY KEY,
    student_id INTEGER NOT NULL REFERENCES students (id),
    school_year TEXT NOT NULL CHECK (school_year GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]'),
    grade INTEGER NOT NULL CHECK (grade BETWEEN 0 AND 12),
    removed TEXT
) STRICT;
CREATE UNIQUE INDEX one_grade_a_year ON enrolments (student_id, school_year) WHERE removed IS NULL;

CREATE TABLE terms (
    id INTEGER PRIMARY KEY,
    name TEXT NOT NULL CHECK (trim(name) <> ''),
    begins TEXT NOT NULL CHECK (begins = date(begins)),
    ends TEXT NOT NULL CHECK (ends = date(ends)),
    removed TEXT,
    CHECK (begins <= ends)
) STRICT;
CREATE UNIQUE INDEX one_term_of_a_name ON terms (name, begins) WHERE removed IS NULL;

-- A book of the shared list, or another unit of study; `unit` groups several.
CREATE TABLE books (
    id INTEGER PRIMARY KEY,
    title TEXT NOT NULL CHECK (trim(title) <> ''),
    author TEXT NOT NULL DEFAULT '',
    unit TEXT NOT NULL DEFAULT '',
    started TEXT CHECK (started = date(started)),
    finished TEXT CHECK (finished = date(finished)),
    removed TEXT,
    CHECK (started <= finished)
) STRICT;
CREATE UNIQUE INDEX one_book_of_a_title ON books (title, author) WHERE removed IS NULL;

CREATE TABLE tasks (
    id INTEGER PRIMARY KEY,
    book_id INTEGER REFERENCES books (id),
    title TEXT NOT NULL CHECK (trim(title) <> ''),
    prompt TEXT NOT NULL,
    set_on TEXT NOT NULL CHECK (set_on = date(set_on)),
    removed TEXT
) STRICT;
CREATE UNIQUE INDEX one_task_of_a_title ON tasks (title) WHERE removed IS NULL;

-- Short-answer questions of a task, in order.
CREATE TABLE questions (
    id INTEGER PRIMARY KEY,
    task_id INTEGER NOT NULL REFERENCES tasks (id),
    number INTEGER NOT NULL CHECK (number > 0),
    text TEXT NOT NULL CHECK (trim(text) <> ''),
    points REAL NOT NULL CHECK (points > 0 AND points <= 1e6),
    removed TEXT
) STRICT;
CREATE UNIQUE INDEX one_question_of_a_number ON questions (task_id, number) WHERE removed IS NULL;

-- The rubrics that pieces were scored with, word for word.
CREATE TABLE rubrics (
    id INTEGER PRIMARY KEY,
    sha256 TEXT NOT NULL UNIQUE,
    name TEXT NOT NULL,
    version INTEGER NOT NULL,
    text TEXT NOT NULL,
    removed TEXT
) STRICT;

-- Who gets which version of a task. `questions` is how many of the task's questions this child answers (the first
-- ones); rubric_id is the family's own rubric for it, none for the shipped one of the form.
CREATE TABLE assignments (
    id INTEGER PRIMARY KEY,
    task_id INTEGER NOT NULL REFERENCES tasks (id),
    student_id INTEGER NOT NULL REFERENCES students (id),
    form TEXT NOT NULL CHECK (form IN ('paragraph', 'three-paragraph', 'five-paragraph', 'narrative')),
    instructions TEXT NOT NULL DEFAULT '',
    questions INTEGER NOT NULL DEFAULT 0 CHECK (questions >= 0),
    due TEXT CHECK (due = date(due)),
    excused INTEGER NOT NULL DEFAULT 0 CHECK (excused IN (0, 1)),
    rubric_id INTEGER REFERENCES rubrics (id),
    removed TEXT
) STRICT;
CREATE UNIQUE INDEX one_version_a_child ON assignments (task_id, student_id) WHERE removed IS NULL;

CREATE TABLE answers (
    id INTEGER PRIMARY KEY,
    assignment_id INTEGER NOT NULL REFERENCES assignments (id),
    question_id INTEGER NOT NULL REFERENCES questions (id),
    points REAL NOT NULL CHECK (points >= 0 AND points <= 1e6),
    removed TEXT
) STRICT;
CREATE UNIQUE INDEX one_mark_an_answer ON answers (assignment_id, question_id) WHERE removed IS NULL;

-- Drafts as handed in. The file itself stands in the folder originals under its hash.
CREATE TABLE drafts (
    id INTEGER PRIMARY KEY,
    assignment_id INTEGER NOT NULL REFERENCES assignments (id),
    number INTEGER NOT NULL CHECK (number > 0),
    file_name TEXT NOT NULL,
    sha256 TEXT NOT NULL CHECK (length(sha256) = 64),
    bytes INTEGER NOT NULL CHECK (bytes >= 0),
    received_on TEXT NOT NULL CHECK (received_on = date(received_on)),
    removed TEXT
) STRICT;
CREATE UNIQUE INDEX one_draft_of_a_number ON drafts (assignment_id, number) WHERE removed IS NULL;

-- Proposals, with the versions of program and rubric that made them; `body` is the whole sheet as JSON.
CREATE TABLE sheets (
    id INTEGER PRIMARY KEY,
    draft_id INTEGER NOT NULL REFERENCES drafts (id),
    made_at TEXT NOT NULL,
    program TEXT NOT NULL,
    rubric_id INTEGER NOT NULL REFERENCES rubrics (id),
    grade INTEGER NOT NULL,
    form TEXT NOT NULL,
    body TEXT NOT NULL CHECK (json_valid(body)),
    removed TEXT
) STRICT;

CREATE INDEX sheets_of_a_draft ON sheets (draft_id);

-- The reader's own levels. occasion: 'first' counts for the grade (the latest one does); 'again' is an old piece marked
-- once more, unseen, to tell how steady the reader is. seen_proposal: whether the proposal was on the screen before.
CREATE TABLE marks (
    id INTEGER PRIMARY KEY,
    draft_id INTEGER NOT NULL REFERENCES drafts (id),
    sheet_id INTEGER REFERENCES sheets (id),
    marked_on TEXT NOT NULL CHECK (marked_on = date(marked_on)),
    occasion TEXT NOT NULL CHECK (occasion IN ('first', 'again')),
    seen_proposal INTEGER NOT NULL CHECK (seen_proposal IN (0, 1)),
    comment TEXT NOT NULL DEFAULT '',
    removed TEXT
) STRICT;

CREATE INDEX marks_of_a_draft ON marks (draft_id);

CREATE TABLE mark_levels (
    id INTEGER PRIMARY KEY,
    mark_id INTEGER NOT NULL REFERENCES marks (id),
    criterion TEXT NOT NULL,
    level INTEGER NOT NULL CHECK (level BETWEEN 1 AND 4),
    removed TEXT,
    UNIQUE (mark_id, criterion)
) STRICT;

-- Talks about a piece: what worked, one next step, the goal that child and parent agreed on, what became of it.
CREATE TABLE conferences (
    id INTEGER PRIMARY KEY,
    draft_id INTEGER NOT NULL REFERENCES drafts (id),
    held_on TEXT NOT NULL CHECK (held_on = date(held_on)),
    worked TEXT NOT NULL DEFAULT '',
    next_step TEXT NOT NULL DEFAULT '',
    goal TEXT NOT NULL DEFAULT '',
    outcome TEXT NOT NULL DEFAULT '',
    removed TEXT
) STRICT;

-- Marks from before these records began, as brought over from a table: no draft is there, only the outcome. `title` is
-- that of the book or the task; `levels` by criterion as JSON, {} where only the percent is known.
CREATE TABLE old_marks (
    id INTEGER PRIMARY KEY,
    student_id INTEGER NOT NULL REFERENCES students (id),
    title TEXT NOT NULL CHECK (trim(title) <> ''),
    marked_on TEXT NOT NULL CHECK (marked_on = date(marked_on)),
    percent REAL NOT NULL CHECK (percent BETWEEN 0 AND 100),
    levels TEXT NOT NULL DEFAULT '{}' CHECK (json_valid(levels)),
    note TEXT NOT NULL DEFAULT '',
    removed TEXT
) STRICT;

-- What the family decided: weights of the grade, letters, what late work costs, ... as JSON.
CREATE TABLE settings (
    id INTEGER PRIMARY KEY,
    name TEXT NOT NULL,
    value TEXT NOT NULL CHECK (json_valid(value)),
    removed TEXT
) STRICT;
CREATE UNIQUE INDEX one_setting_of_a_name ON settings (name) WHERE removed IS NULL;

-- Every write in one line, and what it changed, so that the last ones can be undone. undone_by: the write that undid it.
CREATE TABLE writes (
    id INTEGER PRIMARY KEY,
    made_at TEXT NOT NULL,
    what TEXT NOT NULL,
    undoes INTEGER REFERENCES writes (id)
) STRICT;
CREATE TABLE changes (
    id INTEGER PRIMARY KEY,
    write_id INTEGER NOT NULL REFERENCES writes (id),
    in_table TEXT NOT NULL,
    row_id INTEGER NOT NULL,
    before TEXT CHECK (before IS NULL OR json_valid(before)),
    after TEXT NOT NULL CHECK (json_valid(after))
) STRICT;
CREATE INDEX changes_of_a_write ON changes (write_id);

CREATE VIEW current_students AS SELECT * FROM students WHERE removed IS NULL;
CREATE VIEW current_enrolments AS
    SELECT * FROM enrolments WHERE removed IS NULL AND student_id IN (SELECT id FROM current_students);
CREATE VIEW current_terms AS SELECT * FROM terms WHERE removed IS NULL;
CREATE VIEW current_books AS SELECT * FROM books WHERE removed IS NULL;
CREATE VIEW current_tasks AS SELECT * FROM tasks WHERE removed IS NULL;
CREATE VIEW current_questions AS
    SELECT * FROM questions WHERE removed IS NULL AND task_id IN (SELECT id FROM current_tasks);
CREATE VIEW current_rubrics AS SELECT * FROM rubrics WHERE removed IS NULL;
CREATE VIEW current_assignments AS
    SELECT * FROM assignments WHERE removed IS NULL
        AND task_id IN (SELECT id FROM current_tasks) AND student_id IN (SELECT id FROM current_students);
CREATE VIEW current_answers AS
    SELECT * FROM answers WHERE removed IS NULL
        AND assignment_id IN (SELECT id FROM current_assignments) AND question_id IN (SELECT id FROM current_questions);
CREATE VIEW current_drafts AS
    SELECT * FROM drafts WHERE removed IS NULL AND assignment_id IN (SELECT id FROM current_assignments);
CREATE VIEW current_sheets AS
    SELECT * FROM sheets WHERE removed IS NULL AND draft_id IN (SELECT id FROM current_drafts);
CREATE VIEW current_marks AS
    SELECT * FROM marks WHERE removed IS NULL AND draft_id IN (SELECT id FROM current_drafts);
CREATE VIEW current_mark_levels AS
    SELECT * FROM mark_levels WHERE removed IS NULL AND mark_id IN (SELECT id FROM current_marks);
CREATE VIEW current_conferences AS
    SELECT * FROM conferences WHERE removed IS NULL AND draft_id IN (SELECT id FROM current_drafts);
CREATE VIEW current_old_marks AS
    SELECT * FROM old_marks WHERE removed IS NULL AND student_id IN (SELECT id FROM current_students);
CREATE VIEW current_settings AS SELECT * FROM settings WHERE removed IS NULL;

-- Proposals and marks are added, never changed; `removed` alone may be.
CREATE TRIGGER sheets_stay BEFORE UPDATE OF draft_id, made_at, program, rubric_id, grade, form, body ON sheets
BEGIN SELECT RAISE(ABORT, 'a score sheet is never changed'); END;
CREATE TRIGGER marks_stay BEFORE UPDATE OF draft_id, sheet_id, marked_on, occasion, seen_proposal ON marks
BEGIN SELECT RAISE(ABORT, 'a mark is never changed, only a new one added'); END;
CREATE TRIGGER levels_stay BEFORE UPDATE OF mark_id, criterion, level ON mark_levels
BEGIN SELECT RAISE(ABORT, 'a level is never changed, only a new mark added'); END;
CREATE TRIGGER drafts_stay BEFORE UPDATE OF file_name, sha256, bytes ON drafts
BEGIN SELECT RAISE(ABORT, 'a draft as handed in is never changed'); END;
CREATE TRIGGER rubrics_stay BEFORE UPDATE OF sha256, name, version, text ON rubrics
BEGIN SELECT RAISE(ABORT, 'a rubric in use is never changed, only a new version added'); END;
CREATE TRIGGER sheets_kept BEFORE DELETE ON sheets BEGIN SELECT RAISE(ABORT, 'nothing is deleted'); END;
CREATE TRIGGER marks_kept BEFORE DELETE ON marks BEGIN SELECT RAISE(ABORT, 'nothing is deleted'); END;
CREATE TRIGGER levels_kept BEFORE DELETE ON mark_levels BEGIN SELECT RAISE(ABORT, 'nothing is deleted'); END;
CREATE TRIGGER drafts_kept BEFORE DELETE ON drafts BEGIN SELECT RAISE(ABORT, 'nothing is deleted'); END;
