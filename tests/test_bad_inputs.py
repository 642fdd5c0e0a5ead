# ruff: noqa: E501, SIM905  (a text is easier to read as one line, and its words as words)
"""Whatever is handed in, the whole command gives a sensible sheet, or one line that says what to do: no traceback."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from rubric_kit.cli import app

sys.path.insert(0, str(Path(__file__).parent / "reading"))
from hostile_files import BAD, DO_THIS, SENTENCE

FORMS = ("paragraph", "three-paragraph", "five-paragraph", "narrative")
PLAIN = "My dog Rex is brown and he likes to run in the park. We go there every day and it is a lot of fun. "
LYRICS = "oh my love we run in the night\nand the stars are in your eyes\nwe will never be the same\noh oh oh\n" * 6
POEM = """The Owl and the Pussy-cat went to sea
In a beautiful pea-green boat,
They took some honey, and plenty of money,
Wrapped up in a five-pound note.
"""
CODE = """def main(x):
    for i in range(10):
        print(i, x[i], end="\\n")  # show it
    return {"a": 1, "b": [2, 3]}

if __name__ == "__main__":
    main(sys.argv)
"""

# Texts that can be scored, however odd they are.
SCORED = {
    "one letter": "a",
    "one word": "Cat",
    "one word that ends": "Cat.",
    "one question": "Why?",
    "one contraction": "can't",
    "one number and a word": "1 dog",
    "words without a verb": "The big brown dog.",
    "only a title": "My Summer",
    "only a heading": "Robin Ashe\nMay 4, 2026\nGrade 5\n",
    "heading and title": "Robin Ashe\nMay 4, 2026\nGrade 5\n\nMy Summer\n",
    "heading and one word": "Robin Ashe\nGrade 5\n\nMy Summer\n\nIt rained.",
    "one letter again and again": "a " * 300,
    "one word again and again": "dog " * 20,
    "one sentence again and again": PLAIN * 30,
    "one-word sentences": "Go. Stop. I. We. It. And. " * 20,
    "one-word lines": "\n".join("we go to the park and it is a lot of fun".split() * 4),
    "one-word paragraphs": "\n\n".join(f"{word}." for word in "We Go To The Park And It Is Fun".split() * 8),
    "no end marks": PLAIN.replace(".", "") * 6,
    "no spaces after end marks": PLAIN.replace(". ", ".") * 4,
    "all capitals": PLAIN.upper() * 4,
    "no capitals": PLAIN.lower() * 4,
    "alternating capitals": "".join(c.upper() if i % 2 else c for i, c in enumerate(PLAIN * 3)),
    "a capital on every word": PLAIN.title() * 4,
    "exclamation marks": PLAIN.replace(".", "!!!!!!!!!!") * 4,
    "question marks": PLAIN.replace(".", "?") * 4,
    "ellipses": PLAIN.replace(". ", "... ") * 4,
    "only dialogue": '"Where is the dog?" he said. "It is in the park," she said. "Let us go and see it!" ' * 4,
    "quotation that never ends": '"' + PLAIN * 4,
    "quotation marks all over": '"' + '" "'.join(PLAIN.split() * 3) + '"',
    "brackets that never close": "(" * 200 + " " + PLAIN * 2,
    "lyrics": LYRICS,
    "a poem": POEM,
    "a list": "- I like dogs\n- I like cats\n- I like to go to the park with my friends\n" * 4,
    "a numbered list": "".join(f"{n}. I like the dog in the park.\n" for n in range(1, 40)),
    "code": CODE * 2,
    "a table": "Name\tAge\tDog\n" + "The boy\t7\tit is Rex\n" * 12,
    "questions and answers": "1. Who is it?\nIt is the dog in the park.\n2. Why is it there?\nIt likes to run.\n" * 4,
    "a letter": "Dear Aunt Ida,\n\n" + PLAIN * 3 + "\n\nLove,\nRobin",
    "an e-mail": "From: a@b.org\nTo: c@d.org\nSubject: my dog\n\n" + PLAIN * 3,
    "web addresses": "See https://example.org/a/b?c=d&e=f#g for all of it. " * 12,
    "numbers in words' places": "The 12 of us had 3.5 of the 1,000 at 10:30 on 5/4/2026 for $4.99 or 50% of it. " * 6,
    "emoji among words": "I like my dog 😀🐶 and it is so 👍🏽 fun 👨‍👩‍👧 for us ❤️. " * 6,
    "letters with accents": "The café is on the old quay, and Zoë and Señor Muñoz are naïve about it. " * 6,
    "accents apart from their letters": "The cafe\u0301 is on the quay, and Zoe\u0308 is in it with us. " * 6,
    "zero-width marks": PLAIN.replace(" ", "\u200b ") * 4,
    "soft hyphens": PLAIN.replace("park", "pa\u00adrk") * 4,
    "no-break spaces": PLAIN.replace(" ", "\u00a0") * 4,
    "other white space": PLAIN.replace(" ", "\u2003") * 4,
    "vertical tabs and form feeds": PLAIN + "\v" + PLAIN + "\f" + PLAIN,
    "old line ends": f"{PLAIN}\r\r{PLAIN}\r\r{PLAIN}",
    "mixed line ends": f"{PLAIN}\r\n\n{PLAIN}\n\r{PLAIN}\u2028{PLAIN}\u2029{PLAIN}",
    "spaces at line ends": (PLAIN + " " * 500 + "\n") * 5,
    "a thousand blank lines": PLAIN + "\n" * 1000 + PLAIN,
    "reading turned about": "\u202e" + PLAIN * 3 + "\u202c",
    "markup": "<b>The dog</b> is <script>alert(1)</script> in the &amp; park and it is &lt;fun&gt;. " * 5,
    "templates": "The dog is in the {{ 7*7 }} {% raw %} ${HOME} $(ls) %s %d {0} {value} park and it is fun. " * 5,
    "typesetting": "The #dog is *in* the _park_ $x^2$ @ref <label> \\frac{1}{2} ~ and it is #emph[fun]. " * 5,
    "rich's own marks": "The [bold red]dog[/bold red] is [link=x]in[/] the [/] park [ and it is fun. " * 5,
    "percent signs and braces": "It is 100% {of} the %(dogs)s and {} {0} {a.b} of us. " * 8,
    "half an emoji": "The dog \ud83d is in the park and it is fun for us. " * 5,
    "characters of no use yet": "The dog \U000e0041\ue000\uffff is in the park and it is fun for us. " * 5,
    "letters in circles": "The ⓓⓞⓖ is in the 𝐩𝐚𝐫𝐤 and ｉｔ is ﬁne for all of us. " * 6,
    "a very long word": "The dog " + "a" * 990 + " is in the park and it is fun. ",
    "wild spelling": "mi dog iz brown an he liks too run in tha park evry day wen we go thair we hav fun an i liv him. " * 5,
    "keys hit at random among words": "the asdf is qwer in the zxcv and it was poiu to be lkjh of us. " * 6,
    "apostrophes": "It's the dogs' and the boys' 'cause they're o'clock 'n' it's y'all's for us. " * 6,
    "initials": "J. R. R. is in the U.S.A. with Dr. B. at 5 p.m. and it is fun for us. " * 6,
    "dashes": "The dog--and it is a dog -- is in the park — and it – is - fun-for-us. " * 6,
    "sources at the end": PLAIN * 4 + "\n\nWorks Cited\n\nAshe, Robin. The Dog in the Park. 2020.\n",
    "a thousand short sentences": "The dog ran. " * 1000,
}  # fmt: skip
TOLD = {
    "nothing": "",
    "blank space": " \n\t ",
    "digits": "12 34 56\n7",
    "punctuation": "... !!! ??? --- ;;; ,,,",
    "emoji": "😀 🐶 👍",
    "filler": "Lorem ipsum dolor sit amet, consectetur adipiscing elit, sed do eiusmod tempor incididunt ut. " * 5,
    "Spanish": "El perro de mi hermano es muy grande y le gusta correr por el parque con los otros perros. " * 4,
    "Chinese": "我的狗很大。它喜欢在公园里跑。每天我们都去海滩。" * 4,
    "Japanese": "わたしのいぬはおおきいです。まいにちこうえんであそびます。" * 4,
    "Korean": "우리 개는 아주 커요. 매일 공원에서 놀아요. " * 4,
    "Arabic": "كلبي كبير جدا. يحب الجري في الحديقة. " * 4,
    "Hebrew": "הכלב שלי גדול מאוד. הוא אוהב לרוץ בפארק. " * 4,
    "Russian": "Моя собака очень большая. Она любит бегать в парке. " * 4,
    "Hindi": "मेरा कुत्ता बहुत बड़ा है। वह पार्क में दौड़ना पसंद करता है। " * 4,
    "Thai": "หมาของฉันตัวใหญ่มาก มันชอบวิ่งในสวน " * 4,
    "keys hit at random": "asdf jkl qwer zxcv poiu lkjh mnbv cxza " * 8,
    "a shopping list": "Eggs, milk, flour, sugar, butter, cheese, apples, bread, honey, oats, rice, beans. " * 4,
    "a list of numbers and names": "Rex 12, Bella 13, Spot 14, Fido 15, Daisy 16, Buddy 17, Max 18, Lucy 19. " * 5,
    "no spaces": PLAIN.replace(" ", "") * 20,
    "one endless word": "a" * 100_000,
    "one endless row of marks": "!?" * 50_000 + " a",
    "one endless row of quotation marks": "'\"" * 50_000 + " a",
    "one endless row of hyphens": "a-" * 50_000,
    "an endless address": "https://example.org/" + "a/" * 50_000,
    "an endless sentence": "the dog is in the park and " * 2000,
    "ten thousand words without an end": "\n".join(["cat"] * 10_000),
}  # fmt: skip


def run(path: Path, *options: str) -> Result:
    return CliRunner().invoke(app, ["score", str(path), *options])


def check_told(result: Result) -> None:
    assert result.exit_code == 1, result.output
    assert result.stdout == ""
    (line,) = result.stderr.splitlines()
    assert any(words in line for words in DO_THIS), line
    assert "rubric-kit failed" not in line
    assert "Traceback" not in result.stderr


def check_scored(result: Result) -> None:
    assert result.exit_code == 0, result.stderr or result.exception
    assert result.stderr == ""
    assert "out of 100" in result.stdout
    assert "Keep in mind" in result.stdout


def test_there_are_more_than_a_hundred() -> None:
    assert len(BAD) + len(TOLD) + len(SCORED) > 150


@pytest.mark.parametrize("case", BAD)
def test_a_bad_file_is_told_in_one_line(case: str, tmp_path: Path) -> None:
    name, content = BAD[case]
    (tmp_path / name).write_bytes(content() if callable(content) else content)
    check_told(run(tmp_path / name))


@pytest.mark.parametrize("case", TOLD)
def test_a_text_that_is_no_essay_is_told_in_one_line(case: str, tmp_path: Path) -> None:
    path = tmp_path / "essay.txt"
    path.write_text(TOLD[case], "utf-8")
    check_told(run(path))


@pytest.mark.parametrize("case", SCORED)
def test_an_odd_text_gets_a_sheet_a_page_and_json_for_any_form(case: str, tmp_path: Path) -> None:
    path = tmp_path / "essay.txt"
    path.write_text(SCORED[case], "utf-8", errors="surrogatepass")
    form = FORMS[sum(map(ord, case)) % len(FORMS)]
    check_scored(run(path, "--form", form))
    result = run(path, "--form", form, "--json", "--html", str(tmp_path / "a.html"))
    assert result.exit_code == 0, result.stderr
    found = json.loads(result.stdout, parse_constant=lambda name: pytest.fail(f"{name} is no JSON"))
    assert 0 <= found["percent"] <= 100
    assert all(1 <= c["level"] <= 4 and 0 <= c["sure"] <= 1 and c["evidence"] for c in found["criteria"])
    assert "</html>" in (tmp_path / "a.html").read_text("utf-8")


@pytest.mark.parametrize("case", ["one word", "markup", "typesetting", "half an emoji", "a very long word", "a table"])
def test_an_odd_text_can_be_printed(case: str, tmp_path: Path) -> None:
    path = tmp_path / "essay.txt"
    path.write_text(SCORED[case], "utf-8", errors="surrogatepass")
    assert run(path, "--pdf", str(tmp_path / "a.pdf")).exit_code == 0
    assert (tmp_path / "a.pdf").read_bytes().startswith(b"%PDF-")


@pytest.mark.slow
@pytest.mark.parametrize(
    "text",
    [
        "\n\n".join(["Cat.", "It is a dog."] * 5_000),
        SENTENCE * 12_000,
        "He said, “I am in the park.” " * 9_000,
        ("the dog is in the park and " * 700 + ".\n\n") * 9,
        "the dgo iz in teh park, and it iz fnu. " * 4_000,
    ],
    ids=["10,000 paragraphs", "360,000 characters", "9,000 quotations", "endless sentences", "12,000 slips"],
)
def test_a_long_text_is_scored_too(text: str, tmp_path: Path) -> None:
    path = tmp_path / "essay.txt"
    path.write_text(text, "utf-8")
    check_scored(run(path))
