# ruff: noqa: E501  (tables of words of each format)
"""Read files that were damaged in many ways; what came of it as one JSON object on stdout. Run by test_mutated_files.py.

python mutate_files.py KIND HOW_MANY SEED
"""

from __future__ import annotations

import io
import json
import random
import resource
import signal
import sys
import tempfile
import time
import zipfile
from collections.abc import Callable
from pathlib import Path

from rubric_kit.errors import RubricKitError
from rubric_kit.reading import read, read_text
from rubric_kit.scoring.rubric_file import FORMS, load_file, shipped
from rubric_kit.scoring.score import score

sys.path.insert(0, str(Path(__file__).parent))
sys.path.insert(0, str(Path(__file__).parents[1] / "reading"))
from hostile_files import SENTENCE, by_hand, good_docx, good_odt, good_rtf

SAMPLES = Path(__file__).parents[2] / "sample_essays"
AT_MOST = 20  # seconds of the processor for one file: then it is stopped
MARKS = {"docx": b"<", "odt": b"<", "pdf": b" ", "rtf": b"\\", "toml": b"="}  # where a word of the format begins
TOKENS: dict[str, tuple[bytes, ...]] = {
    "docx": (
        b"<w:p>", b"</w:p>", b"<w:t>", b"<w:del>", b"<w:vanish/>", b"<w:tab/>", b"&#0;", b"&#x110000;", b"&amp;", b"<!--",
        b"<![CDATA[", b"]]>", b"<!DOCTYPE a [<!ENTITY x 'y'>]>", b"xmlns:w='x'", b"<?xml encoding='utf-16'?>", b"\xff\xfe",
    ),
    "odt": (
        b"<text:p>", b"</text:p>", b"<text:s text:c='99999999999'/>", b"<text:s text:c='-1'/>", b"<text:s text:c='\xc2\xb2'/>",
        b"<text:note>", b"<text:line-break/>", b"&#0;", b"<!--", b"<![CDATA[", b"<!DOCTYPE a [<!ENTITY x SYSTEM '/dev/zero'>]>",
    ),
    "pdf": (
        b"<<", b">>", b"[", b"]", b"endobj", b"1 0 R", b"4 0 R", b"99999999999999999999", b"-1", b"0", b"/Kids", b"/Length",
        b"/FlateDecode", b"/ASCII85Decode", b"/LZWDecode", b"/RunLengthDecode", b"/Prev 9", b"(", b")", b"\\777", b"Tj", b"Tm",
        b"1e308", b"nan", b"/Contents", b"/Encrypt 1 0 R", b"/Type /Catalog", b"/ToUnicode 4 0 R", b"Do", b"BI ID EI", b"TJ",
    ),
    "rtf": (
        b"{", b"}", b"\\", b"\\bin99999999999", b"\\bin-5 ", b"\\u-99999 ?", b"\\u99999999999 ?", b"\\'", b"\\'zz", b"\\uc99999",
        b"\\uc-1", b"\\ansicpg0", b"\\ansicpg65001", b"\\ansicpg1200", b"\\ansicpg57", b"\\mac", b"\\*", b"\\v", b"\\deleted",
    ),
    "toml": (
        b"nan", b"inf", b"-inf", b"1e400", b"-1", b"0", b"99999999999999999999999", b'""', b"''", b"[]", b"{}", b"true",
        b"1979-05-27", b"[[criterion]]", b"[criterion]", b'"""', b"'''", b"=", b".", b",", b'"\\u0000"', b'"\\uD800"', b"0x7fff",
        b"[" * 2000, b"a.b.c=1", b"[1, 2, 3, 4]", b"[4, 4, 4, 4]", b"[0, 0, 0, 0]", b'"five-paragraph"', b"grade_3", b"\r", b"#",
    ),
}  # fmt: skip


def good_pdf() -> bytes:
    """Two pages in plain text, one drawn within the other, so that what is changed is read."""
    drawing = b"BT /F1 12 Tf 72 700 Td 14 TL " + b"(The old boat sank in the bay.) ' " * 20 + b"ET /X Do"
    form = b"BT /F1 12 Tf 1 0 0 1 72 300 Tm [(It was) -250 (leaking) <2e>] TJ ET"
    return by_hand(
        [
            b"<< /Type /Catalog /Pages 2 0 R >>",
            b"<< /Type /Pages /Kids [3 0 R 3 0 R] /Count 2 >>",
            b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 612 792] /Contents 4 0 R"
            b" /Resources << /Font << /F1 5 0 R >> /XObject << /X 6 0 R >> >> >>",
            b"<< /Length %d >> stream\n%s\nendstream" % (len(drawing), drawing),
            b"<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding /WinAnsiEncoding >>",
            b"<< /Type /XObject /Subtype /Form /BBox [0 0 612 792] /Length %d >> stream\n%s\nendstream"
            % (len(form), form),
        ]
    )


def wholes(kind: str) -> list[bytes]:
    made = {"docx": good_docx, "odt": good_odt, "pdf": good_pdf, "rtf": good_rtf}
    if kind == "toml":
        return [shipped(form).encode() for form in FORMS]
    return [made[kind](), *(path.read_bytes() for path in sorted(SAMPLES.glob(f"*.{kind}"))[:3])]


def changed(data: bytes, kind: str, chance: random.Random) -> bytes:
    """Bytes set, cut out, doubled, moved, or words of the format put in; now and then the end cut off."""
    out = bytearray(data)
    mark = MARKS[kind]
    for _ in range(1 + int(chance.expovariate(1))):  # mostly one or two: with more, hardly a file is read to its end
        a = chance.randrange(len(out) + 1)
        b = min(len(out), a + chance.choice((1, 4, 40, 400)))
        if chance.randrange(4):
            a = max(0, out.find(mark, a)) + (kind == "toml")
            end = out.find(b"\n" if kind == "toml" else mark, a + 1)
            b = end if end > a else b
        match chance.randrange(6):
            case 0:
                out[a : a + 1] = bytes([chance.randrange(256)])
            case 1:
                del out[a:b]
            case 2:
                out[a:a] = out[a:b] * chance.choice((1, 2, 50))
            case 3:
                out[a:b] = chance.choice(TOKENS[kind])
            case 4:
                out[a:a] = chance.choice(TOKENS[kind])
            case 5:
                piece = bytes(out[a:b])
                del out[a:b]
                at = chance.randrange(len(out) + 1)
                out[at:at] = piece
    if not chance.randrange(10):
        del out[chance.randrange(len(out) + 1) :]
    return bytes(out)


def mutated(data: bytes, kind: str, chance: random.Random) -> bytes:
    """Of a zip archive mostly a part inside it, since a changed archive is found out by its checksum."""
    if kind not in ("docx", "odt") or not chance.randrange(4):
        return changed(data, kind, chance)
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        main = "word/document.xml" if kind == "docx" else "content.xml"
        for name in old.namelist():
            part = old.read(name)
            new.writestr(name, changed(part, kind, chance) if name == main or not chance.randrange(8) else part)
    return out.getvalue()


def use(kind: str) -> Callable[[Path], object]:
    if kind != "toml":
        return read
    essay = read_text(("Dogs are loyal because they help us. " + SENTENCE) * 6)
    return lambda path: score(essay, rubric=load_file(path))


class TooSlowError(BaseException):
    pass


def stop(*_: object) -> None:
    raise TooSlowError


def main(kind: str, how_many: int, seed: int) -> dict[str, object]:
    signal.signal(signal.SIGPROF, stop)
    run, good = use(kind), wholes(kind)
    essays, told, wrong, slowest = 0, 0, {}, 0.0
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"a.{kind}"
        for number in range(how_many):
            chance = random.Random(f"{kind} {seed} {number}")
            path.write_bytes(mutated(chance.choice(good), kind, chance))
            before = time.process_time()
            signal.setitimer(signal.ITIMER_PROF, AT_MOST)
            try:
                run(path)
                essays += 1
            except RubricKitError as error:
                told += 1
                if not str(error).isprintable() or "\n" in str(error):
                    wrong[number] = f"not fit to show: {error!r}"
            except (Exception, TooSlowError) as error:
                wrong[number] = f"{type(error).__name__}: {error}"[:200]
            finally:
                signal.setitimer(signal.ITIMER_PROF, 0)
            slowest = max(slowest, time.process_time() - before)
    peak = peak_memory() // 1024
    return {"essays": essays, "told": told, "wrong": wrong, "slowest_s": round(slowest, 2), "peak_mb": peak}


def peak_memory() -> int:
    """Kilobytes at the peak of this program; getrusage would count those of the one that started it too."""
    status = Path("/proc/self/status")
    if status.exists():
        return next(int(line.split()[1]) for line in status.read_text().splitlines() if line.startswith("VmHWM"))
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss


if __name__ == "__main__":
    print(json.dumps(main(sys.argv[1], int(sys.argv[2]), int(sys.argv[3]))))
