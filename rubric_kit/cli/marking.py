"""rubric-kit mark and conference: the reader's own levels, and the talk about a piece."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import TYPE_CHECKING, Annotated, Any

import typer

from rubric_kit.cli.opening import opened
from rubric_kit.cli.options import FamilyFolder, Json, on_day
from rubric_kit.cli.printing import done, json_of, say
from rubric_kit.errors import RecordsError

if TYPE_CHECKING:
    from rubric_kit.records.family import Family
    from rubric_kit.records.pieces import Piece
    from rubric_kit.scoring.rubric import Criterion, Rubric

app = typer.Typer()
conference = typer.Typer(help="Talks about a piece: what worked, one next step, a goal.", no_args_is_help=True)
app.add_typer(conference, name="conference")

Number = Annotated[int, typer.Argument(metavar="NUMBER", help="The draft's number: rubric-kit draft list.")]


def _level(level: int | None) -> int | None:
    from rubric_kit.scoring.rubric import LEVELS

    if level is not None and level not in LEVELS:
        raise typer.BadParameter("A level is 1, 2, 3 or 4.")
    return level


Level = Annotated[int | None, typer.Option(callback=_level, help="Your level, 1 to 4.", rich_help_panel="Levels")]
On = Annotated[date | None, on_day("When, if not today.", "--on")]
Worked = Annotated[str | None, typer.Option(help="What worked, best in the child's own words.")]
NextStep = Annotated[str | None, typer.Option(help="One thing to try next.")]
Goal = Annotated[str | None, typer.Option(help="What you both agreed on.")]
Outcome = Annotated[str | None, typer.Option(help="What became of it.")]


@app.command()
def mark(
    number: Number,
    focus: Level = None,
    organization: Level = None,
    evidence: Level = None,
    sentences: Level = None,
    conventions: Level = None,
    levels: Annotated[
        str | None, typer.Option(help="The same for any rubric: focus=3,organization=2", rich_help_panel="Levels")
    ] = None,
    accept: Annotated[
        bool, typer.Option("--accept", help="Where you give no level, take the proposed one.", rich_help_panel="Levels")
    ] = False,
    comment: Annotated[str | None, typer.Option(help="What you say about it.")] = None,
    blind: Annotated[bool, typer.Option("--blind", help="Mark first, and see the proposal afterwards.")] = False,
    again: Annotated[
        bool, typer.Option("--again", help="Mark an old piece once more, unseen, to tell how steady you are.")
    ] = False,
    on: On = None,
    family: FamilyFolder = None,
) -> None:
    """Set your own levels for a draft; those that you do not give are asked for. Yours are final.

    Example: rubric-kit mark 3 --focus 3 --organization 2 --accept --comment "A strong scene."
    """
    from rubric_kit.records.pieces import piece
    from rubric_kit.records.rereading import as_you_mark, mark_again
    from rubric_kit.scoring.rubric_file import parse_rubric
    from rubric_kit.showing.piece_view import called, print_levels

    named = {
        "focus": focus,
        "organization": organization,
        "evidence": evidence,
        "sentences": sentences,
        "conventions": conventions,
    }
    given = {key: level for key, level in named.items() if level is not None} | _levels(levels)
    unseen, day = blind or again, on or date.today()
    if accept and unseen:
        raise typer.BadParameter("--accept takes what is proposed, so it cannot go with --blind or --again.")
    with opened(family) as records:
        marked = piece(records, number)
        name, text = records.sheets.rubric_for(marked.draft)
        rubric = marked.rubric or parse_rubric(text, name)
        _check(given, rubric)
        missing = [c for c in rubric.criteria if c.key not in given]
        say(called(marked))
        if accept:
            given |= {c.key: marked.proposed[c.key] for c in missing if c.key in marked.proposed}
            missing = [c for c in rubric.criteria if c.key not in given]
        if missing:
            if not unseen:
                print_levels(rubric, proposed=marked.proposed, as_you_mark=as_you_mark(records, marked))
            given |= {c.key: _ask(c, None if unseen else marked.proposed.get(c.key)) for c in missing}
            if comment is None and not again:
                comment = typer.prompt("Your comment (Enter for none)", default="", show_default=False)
        if again:
            mark_again(records, number, given, today=day)
            print_levels(rubric, first=marked.own, again=given)
        else:
            records.marks.add(number, given, marked_on=day, comment=comment or "", seen_proposal=not unseen)
            print_levels(rubric, proposed=marked.proposed, own=given)
            _print_percent(piece(records, number), rubric)
        done("Marked.")
        if not again:
            _offer(records, day)


@conference.command("add")
def add_conference(
    number: Number,
    worked: Worked = None,
    next_step: NextStep = None,
    goal: Goal = None,
    outcome: Outcome = None,
    on: On = None,
    family: FamilyFolder = None,
) -> None:
    """Note a talk about a draft.

    Example: rubric-kit conference add 3 --worked "The storm scene" --goal "A reason in each paragraph"
    """
    values = _given(worked, next_step, goal, outcome)
    if not values:
        raise typer.BadParameter("Nothing to note: give --worked, --next-step, --goal or --outcome.")
    with opened(family) as records:
        made = records.conferences.add(number, held_on=on or date.today(), **values)
        done(f"Noted, as number {made.id}.")


@conference.command("list")
def list_conferences(
    student: Annotated[str | None, typer.Option(help="Only this child's.")] = None,
    family: FamilyFolder = None,
    json: Json = False,
) -> None:
    """List the talks.

    Example: rubric-kit conference list --student Wren
    """
    from rubric_kit.records.pieces import piece
    from rubric_kit.showing.piece_view import print_conference

    with opened(family) as records:
        conferences = records.conferences
        found = conferences.all() if student is None else conferences.of_student(records.students.find(student).id)
        if json:
            json_of(found)
            return
        for each in found:
            print_conference(each, piece(records, each.draft_id))
        if not found:
            say("No conferences yet. Note one: rubric-kit conference add NUMBER --worked WORDS")


@conference.command("change")
def change_conference(
    number: Annotated[int, typer.Argument(metavar="NUMBER", help="Its number: rubric-kit conference list.")],
    worked: Worked = None,
    next_step: NextStep = None,
    goal: Goal = None,
    outcome: Outcome = None,
    on: Annotated[date | None, on_day("When it was held.", "--on")] = None,
    family: FamilyFolder = None,
) -> None:
    """Change a note, such as with what became of the goal.

    Example: rubric-kit conference change 2 --outcome "Done in draft 2"
    """
    values: dict[str, Any] = _given(worked, next_step, goal, outcome) | ({} if on is None else {"held_on": on})
    if not values:
        raise typer.BadParameter("Nothing to change: give --worked, --next-step, --goal, --outcome or --on.")
    with opened(family) as records:
        records.conferences.change(number, **values)
        done(f"Changed conference number {number}.")


@conference.command("remove")
def remove_conference(
    number: Annotated[int, typer.Argument(metavar="NUMBER", help="Its number: rubric-kit conference list.")],
    family: FamilyFolder = None,
) -> None:
    """Take a note out of sight.

    Example: rubric-kit conference remove 2
    """
    with opened(family) as records:
        records.conferences.remove(number)
        done(f"Removed conference number {number}.")


def _levels(text: str | None) -> dict[str, int]:
    found = {}
    for part in (text or "").split(",") if text else ():
        key, _, level = part.partition("=")
        if not (key.strip() and level.strip() in {"1", "2", "3", "4"}):
            raise typer.BadParameter(f"{part!r}: write a criterion, an equals sign and a level from 1 to 4: focus=3")
        found[key.strip()] = int(level)
    return found


def _check(given: Mapping[str, int], rubric: Rubric) -> None:
    known = [c.key for c in rubric.criteria]
    unknown = [key for key in given if key not in known]
    if unknown:
        raise RecordsError(f"The rubric has no criterion {unknown[0]}. It has: {', '.join(known)}.")


def _ask(criterion: Criterion, proposed: int | None) -> int:
    from rubric_kit.scoring.rubric import LEVEL_NAMES
    from rubric_kit.showing.inert import inert

    scale = ", ".join(f"{level} {name}" for level, name in LEVEL_NAMES.items())
    while True:
        answer = str(typer.prompt(inert(f"{criterion.name.capitalize()} ({scale})"), default=proposed)).strip()
        if answer in {"1", "2", "3", "4"}:
            return int(answer)
        say("A level is 1, 2, 3 or 4.")


def _print_percent(marked: Piece, rubric: Rubric) -> None:
    if marked.percent is not None:
        say(f"{marked.percent:g} out of 100, {rubric.letter_for(marked.percent)}.")


def _offer(records: Family, day: date) -> None:
    from rubric_kit.records.rereading import offer
    from rubric_kit.showing.piece_view import called

    old = offer(records, day)
    if old:
        say(f"To see how steady you are, mark an old piece once more: {called(old)}")
        say(f"rubric-kit mark {old.draft.id} --again")


def _given(worked: str | None, next_step: str | None, goal: str | None, outcome: str | None) -> dict[str, str]:
    texts = {"worked": worked, "next_step": next_step, "goal": goal, "outcome": outcome}
    return {name: text.strip() for name, text in texts.items() if text is not None}
