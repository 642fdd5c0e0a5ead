"""What a child hands in and what is said of it: drafts, proposals, marks, short answers, conferences."""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from datetime import UTC, date, datetime
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rubric_kit.errors import RecordsError
from rubric_kit.reading import Essay, read, read_bytes
from rubric_kit.records.database import Database
from rubric_kit.records.nouns import Noun
from rubric_kit.records.originals import content_of, keep
from rubric_kit.records.people import Students
from rubric_kit.records.rows import (
    Answer,
    Assignment,
    Conference,
    Draft,
    KeptRubric,
    Mark,
    MarkLevel,
    Question,
    Sheet,
    Student,
    Task,
)
from rubric_kit.records.rubrics import digest_of, keep_rubric

if TYPE_CHECKING:
    from rubric_kit.scoring.sheet import ScoreSheet

FIRST, AGAIN = "first", "again"


class Drafts(Noun[Draft]):
    kind = Draft
    fixed = frozenset({"id", "file_name", "sha256", "bytes", "assignment_id"})

    def __init__(self, database: Database, originals: Path) -> None:
        super().__init__(database)
        self._originals = originals

    def hand_in(self, assignment_id: int, path: str | os.PathLike[str], *, received_on: date) -> Draft:
        """The next draft of a child's task, from a file; its bytes are kept as they are.

        Raises UnreadableFileError where it cannot be read as an essay, RecordsError where it cannot be kept; then
        nothing is kept.
        """
        read(path)  # what cannot be read is not handed in, and the message names the path
        try:
            content = Path(path).read_bytes()
        except OSError as error:
            raise RecordsError(f"{path}: it cannot be read ({error.strerror}).") from error
        return self.hand_in_bytes(assignment_id, content, Path(path).name, received_on=received_on)

    def hand_in_bytes(self, assignment_id: int, content: bytes, file_name: str, *, received_on: date) -> Draft:
        """The same for what was uploaded or pasted (as "pasted.txt", in UTF-8); errors as for ``hand_in``."""
        self._database.row(Assignment, assignment_id)
        read_bytes(content, file_name)
        digest = keep(self._originals, content, file_name)
        with self._database.write(f"hand in {file_name}") as write:
            number = 1 + max((d.number for d in self.of(assignment_id)), default=0)
            draft = write.add(
                Draft,
                assignment_id=assignment_id,
                number=number,
                file_name=file_name,
                sha256=digest,
                bytes=len(content),
                received_on=received_on,
            )
        return self.get(draft)

    def of(self, assignment_id: int) -> list[Draft]:
        """The drafts of a child's task, first to last."""
        return self._database.rows(Draft, "assignment_id = ? ORDER BY number", [assignment_id])

    def essay(self, draft: Draft) -> Essay:
        """A draft as an essay; its source is the name that it was handed in by.

        Raises RecordsError where the file is gone or was changed.
        """
        return read_bytes(content_of(self._originals, draft.sha256, draft.file_name), draft.file_name)


class Sheets(Noun[Sheet]):
    kind = Sheet
    fixed = frozenset({"id", "draft_id", "made_at", "program", "rubric_id", "grade", "form", "body"})

    def __init__(self, database: Database, drafts: Drafts) -> None:
        super().__init__(database)
        self._drafts = drafts

    def make(self, draft_id: int) -> Sheet:
        """Score a draft and keep the proposal; one that this version made on the same rubric is kept as it is.

        Raises RubricFileError for a kept rubric that this version cannot use, NotEnglishError, RecordsError.
        """
        draft = self._drafts.get(draft_id)
        _, text = self.rubric_for(draft)
        last = self.latest(draft_id)
        if last and last.program == program() and self.rubric(last).sha256 == digest_of(text):
            return last
        return self.keep(draft_id, self.score(draft))

    def keep(self, draft_id: int, sheet: ScoreSheet) -> Sheet:
        """Keep a proposal that was just made for a draft.

        Raises RecordsError where it cannot be kept.
        """
        from rubric_kit.scoring.as_json import as_json

        draft = self._drafts.get(draft_id)
        name, text = self.rubric_for(draft)
        body = json.dumps(as_json(sheet), ensure_ascii=False)
        with self._database.write(f"score {draft.file_name}") as write:
            rubric = keep_rubric(self._database, write, text=text, name=name, version=sheet.rubric.version)
            made = write.add(
                Sheet,
                draft_id=draft_id,
                made_at=datetime.now(UTC).replace(microsecond=0),
                program=program(),
                rubric_id=rubric,
                grade=sheet.grade,
                form=sheet.measures.form,
                body=body,
            )
        return self.get(made)

    def score(self, draft: Draft) -> ScoreSheet:
        """A draft scored anew, with everything a page shows; nothing is written."""
        from rubric_kit.scoring.rubric import GRADES
        from rubric_kit.scoring.rubric_file import parse_rubric
        from rubric_kit.scoring.score import score

        assignment = self._database.row(Assignment, draft.assignment_id)
        grade = Students(self._database).grade_on(assignment.student_id, draft.received_on)
        within = min(max(grade, GRADES[0]), GRADES[-1])
        name, text = self.rubric_for(draft)
        return score(self._drafts.essay(draft), within, assignment.form, parse_rubric(text, name))

    def latest(self, draft_id: int) -> Sheet | None:
        """The last proposal for a draft, or none."""
        found = self.of(draft_id)
        return found[-1] if found else None

    def of(self, draft_id: int) -> list[Sheet]:
        """All proposals for a draft, in the order they were made."""
        return self._database.rows(Sheet, "draft_id = ?", [draft_id])

    def rubric(self, sheet: Sheet) -> KeptRubric:
        """The rubric that a proposal was made on, word for word."""
        return self._database.row(KeptRubric, sheet.rubric_id)

    def rubric_for(self, draft: Draft) -> tuple[str, str]:
        """Name and text of the rubric that a draft is to be scored on."""
        from rubric_kit.scoring.rubric_file import shipped

        assignment = self._database.row(Assignment, draft.assignment_id)
        if assignment.rubric_id is None:
            return f"{assignment.form}.toml", shipped(assignment.form)
        kept = self._database.row(KeptRubric, assignment.rubric_id)
        return kept.name, kept.text


class Marks(Noun[Mark]):
    kind = Mark
    fixed = frozenset({"id", "draft_id", "sheet_id", "marked_on", "occasion", "seen_proposal"})

    def add(
        self,
        draft_id: int,
        levels: Mapping[str, int],
        *,
        marked_on: date,
        comment: str = "",
        seen_proposal: bool = True,
        occasion: str = FIRST,
    ) -> Mark:
        """The reader's own levels (1 to 4, by criterion key) for a draft. An earlier mark stays; the latest counts.

        Raises RecordsError for no levels at all, a level that cannot be, or a criterion that the piece's rubric does
        not have.
        """
        if not levels:
            raise RecordsError("A mark needs a level for at least one criterion.")
        draft = self._database.row(Draft, draft_id)
        sheets = self._database.rows(Sheet, "draft_id = ?", [draft_id])
        if sheets:
            _check_criteria(levels, json.loads(sheets[-1].body))
        with self._database.write(f"mark {draft.file_name}") as write:
            mark = write.add(
                Mark,
                draft_id=draft_id,
                sheet_id=sheets[-1].id if sheets else None,
                marked_on=marked_on,
                occasion=occasion,
                seen_proposal=seen_proposal,
                comment=comment.strip(),
            )
            for criterion, level in levels.items():
                write.add(MarkLevel, mark_id=mark, criterion=criterion, level=level)
        return self.get(mark)

    def of(self, draft_id: int, occasion: str = FIRST) -> list[Mark]:
        """The marks of a draft, in the order they were made."""
        return self._database.rows(Mark, "draft_id = ? AND occasion = ?", [draft_id, occasion])

    def latest(self, draft_id: int) -> Mark | None:
        """The mark that counts, or none."""
        found = self.of(draft_id)
        return found[-1] if found else None

    def levels(self, mark_id: int) -> dict[str, int]:
        """The levels of a mark by criterion key."""
        return {row.criterion: row.level for row in self._database.rows(MarkLevel, "mark_id = ?", [mark_id])}


class Answers(Noun[Answer]):
    kind = Answer
    fixed = frozenset({"id", "assignment_id", "question_id"})

    def give(self, assignment_id: int, points: Mapping[int, float]) -> None:
        """Points for short answers, by the number of the question; points given before are changed.

        Raises RecordsError for a question that the child does not answer, or more points than it is worth.
        """
        assignment = self._database.row(Assignment, assignment_id)
        asked = self._database.rows(Question, "task_id = ? ORDER BY number", [assignment.task_id])
        by_number = {question.number: question for question in asked[: assignment.questions]}
        for number, given in points.items():
            if number not in by_number:
                raise RecordsError(f"There is no question {number} in this child's task; it has {len(by_number)}.")
            if not 0 <= given <= by_number[number].points:
                most = f"{by_number[number].points:g}"
                raise RecordsError(f"Question {number} is worth 0 to {most} points, not {given:g}.")
        had = {row.question_id: row for row in self.of(assignment_id)}
        whose = self._database.row(Student, assignment.student_id).name
        what = self._database.row(Task, assignment.task_id).title
        with self._database.write(f"points for short answers: {whose}, {what}") as write:
            for number, given in points.items():
                question = by_number[number].id
                if question in had:
                    write.change(Answer, had[question].id, points=float(given))
                else:
                    write.add(Answer, assignment_id=assignment_id, question_id=question, points=float(given))

    def of(self, assignment_id: int) -> list[Answer]:
        """The points given for a child's task."""
        return self._database.rows(Answer, "assignment_id = ?", [assignment_id])


class Conferences(Noun[Conference]):
    kind = Conference

    def add(
        self, draft_id: int, *, held_on: date, worked: str = "", next_step: str = "", goal: str = "", outcome: str = ""
    ) -> Conference:
        """A talk about a draft."""
        draft = self._database.row(Draft, draft_id)
        with self._database.write(f"conference about {draft.file_name}") as write:
            conference = write.add(
                Conference,
                draft_id=draft_id,
                held_on=held_on,
                worked=worked.strip(),
                next_step=next_step.strip(),
                goal=goal.strip(),
                outcome=outcome.strip(),
            )
        return self.get(conference)

    def of_student(self, student_id: int) -> list[Conference]:
        """A child's conferences, first to last."""
        where = (
            "draft_id IN (SELECT d.id FROM current_drafts d JOIN current_assignments a ON a.id = d.assignment_id "
            "WHERE a.student_id = ?) ORDER BY held_on, id"
        )
        return self._database.rows(Conference, where, [student_id])


def program() -> str:
    """The version of this program, as proposals name it."""
    return f"rubric_kit {version('rubric-kit')}"


def _check_criteria(levels: Mapping[str, int], sheet: Mapping[str, Any]) -> None:
    known = [criterion["key"] for criterion in sheet["criteria"]]
    unknown = [key for key in levels if key not in known]
    if unknown:
        raise RecordsError(f"The rubric has no criterion {unknown[0]}. It has: {', '.join(known)}.")
