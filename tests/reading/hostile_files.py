"""Files that no essay can be read from, by what is wrong with them: a name, and the bytes or what makes them."""

from __future__ import annotations

import io
import random
import zipfile
import zlib
from collections.abc import Callable

import docx
import odfdo
from pypdf import PdfWriter
from pypdf.generic import DecodedStreamObject, DictionaryObject, NameObject

# What a message may tell a family to do.
DO_THIS = (
    "Check", "Save", "Open", "Rename", "Name the", "Hand in", "Type", "Unpack", "Copy", "Ask", "Run", "open it",
)  # fmt: skip
W = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"
SENTENCE = "The old boat sank in the bay. "
OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
PNG = b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 20
JPEG = b"\xff\xd8\xff\xe0" + bytes(range(256)) * 20


def zipped(parts: dict[str, bytes | str], compression: int = zipfile.ZIP_DEFLATED) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", compression) as archive:
        for name, content in parts.items():
            archive.writestr(name, content)
    return out.getvalue()


def word(body: str, before: str = "") -> bytes:
    document = f'{before}<w:document xmlns:w="{W}"><w:body>{body}</w:body></w:document>'
    return zipped({"[Content_Types].xml": "<Types/>", "word/document.xml": document})


def opened(body: str, before: str = "") -> bytes:
    spaces = " ".join(f'xmlns:{n}="urn:oasis:names:tc:opendocument:xmlns:{n}:1.0"' for n in ("office", "text"))
    return zipped({"content.xml": f"{before}<office:body {spaces}>{body}</office:body>"})


def good_docx() -> bytes:
    document = docx.Document()
    document.add_paragraph(SENTENCE * 20)
    out = io.BytesIO()
    document.save(out)
    return out.getvalue()


def good_odt() -> bytes:
    document = odfdo.Document("text")
    document.body.append(odfdo.Paragraph(SENTENCE * 20))
    out = io.BytesIO()
    document.save(out)
    return out.getvalue()


def good_rtf() -> bytes:
    return b"{\\rtf1\\ansi {\\fonttbl{\\f0 Arial;}}" + SENTENCE.encode() * 20 + b"}"


def pdf(content: bytes | None, password: str | None = None, pages: int = 1) -> bytes:
    writer = PdfWriter()
    drawing = DecodedStreamObject()
    drawing.set_data(content or b"")
    for _ in range(pages):
        page = writer.add_blank_page(612, 792)
        if content is not None:
            kind = {"/Type": "/Font", "/Subtype": "/Type1", "/BaseFont": "/Helvetica"}
            font = DictionaryObject({NameObject(key): NameObject(value) for key, value in kind.items()})
            fonts = DictionaryObject({NameObject("/Font"): DictionaryObject({NameObject("/F1"): font})})
            page[NameObject("/Resources")] = fonts
            page[NameObject("/Contents")] = writer._add_object(drawing)
    if password:
        writer.encrypt(password, algorithm="RC4-128")
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()


def good_pdf(password: str | None = None) -> bytes:
    return pdf(b"BT /F1 12 Tf 72 700 Td (The old boat sank in the bay.) Tj ET", password)


def by_hand(objects: list[bytes], trailer: bytes = b"") -> bytes:
    """A PDF of these objects, numbered from 1, with a sound table of places."""
    out = b"%PDF-1.7\n"
    places = []
    for number, content in enumerate(objects, 1):
        places.append(len(out))
        out += b"%d 0 obj%s\nendobj\n" % (number, content)
    table = b"".join(b"%010d 00000 n \n" % place for place in places)
    size = len(objects) + 1
    return out + b"xref\n0 %d\n0000000000 65535 f \n%strailer<</Root 1 0 R/Size %d%s>>\nstartxref\n%d\n%%%%EOF" % (
        size, table, size, trailer, len(out),
    )  # fmt: skip


def stream(head: bytes, content: bytes) -> bytes:
    return b"<<%s/Length %d>>stream\n%s\nendstream" % (head, len(content), content)


CATALOG = b"<</Type/Catalog/Pages 2 0 R>>"
ONE_PAGE = b"<</Type/Pages/Kids[3 0 R]/Count 1>>"


def looping_pdf() -> bytes:
    """A form that paints itself, without end."""
    page = b"<</Type/Page/Parent 2 0 R/Resources<</XObject<</A 4 0 R>>>>/Contents 5 0 R>>"
    form = stream(b"/Type/XObject/Subtype/Form/Resources<</XObject<</A 4 0 R>>>>", b"/A Do")
    return by_hand([CATALOG, ONE_PAGE, page, form, stream(b"", b"/A Do")])


def doubling_pdf() -> bytes:
    """Thirty forms, each painting the next one twice: a billion paintings of one sentence."""
    page = b"<</Type/Page/Parent 2 0 R/Resources<</XObject<</A 5 0 R>>>>/Contents 4 0 R>>"
    forms = [
        stream(b"/Type/XObject/Subtype/Form/Resources<</XObject<</A %d 0 R>>>>" % (n + 1), b"/A Do /A Do")
        for n in range(5, 35)
    ]
    return by_hand(
        [
            CATALOG,
            ONE_PAGE,
            page,
            stream(b"", b"/A Do"),
            *forms,
            stream(b"/Type/XObject/Subtype/Form", b"BT (One) Tj ET"),
        ]
    )


def circular_pages() -> bytes:
    return by_hand([CATALOG, b"<</Type/Pages/Kids[2 0 R 2 0 R]/Count 2>>"])


def flate_bomb() -> bytes:
    page = b"<</Type/Page/Parent 2 0 R/Contents 4 0 R>>"
    return by_hand([CATALOG, ONE_PAGE, page, stream(b"/Filter/FlateDecode", zlib.compress(b"q " * 30_000_000, 9))])


def form_bomb() -> bytes:
    """The page is small, but it paints a form that unpacks to 60 MB."""
    page = b"<</Type/Page/Parent 2 0 R/Resources<</XObject<</A 5 0 R>>>>/Contents 4 0 R>>"
    form = stream(
        b"/Type/XObject/Subtype/Form/Resources<</A 1>>/Filter/FlateDecode", zlib.compress(b"(One) Tj " * 7_000_000, 9)
    )
    return by_hand([CATALOG, ONE_PAGE, page, stream(b"", b"/A Do"), form])


def pdf_locked_in_the_newer_way() -> bytes:
    zeros = b"<" + b"00" * 48 + b">"
    lock = (
        b"<</Filter/Standard/V 5/R 6/Length 256/P -4/O%s/U%s/OE<%s>/UE<%s>/Perms<%s>"
        b"/CF<</StdCF<</CFM/AESV3/AuthEvent/DocOpen/Length 32>>>>/StmF/StdCF/StrF/StdCF>>"
    ) % (zeros, zeros, b"00" * 32, b"00" * 32, b"00" * 16)
    page = b"<</Type/Page/Parent 2 0 R/Contents 4 0 R>>"
    return by_hand([CATALOG, ONE_PAGE, page, stream(b"", b"x" * 32), lock], b"/Encrypt 5 0 R/ID[<00><00>]")


def lying_zip() -> bytes:
    """An archive that says its part is small and unpacks to half a gigabyte."""
    data = zipped({"word/document.xml": b" " * 500_000_000})
    true, said = (500_000_000).to_bytes(4, "little"), (1_000).to_bytes(4, "little")
    return data.replace(true, said)


def laughs(root: str) -> str:
    lines = "".join(f'<!ENTITY l{n} "{f"&l{n - 1};" * 10}">' for n in range(1, 10))
    return f'<!DOCTYPE {root} [<!ENTITY l0 "ha">{lines}]>'


NOISE = random.Random(1).randbytes(20_000)
OUTSIDE = '<!DOCTYPE d [<!ENTITY x SYSTEM "file:///etc/passwd">]>'
P = "<w:p><w:r><w:t>{}</w:t></w:r></w:p>"

BAD: dict[str, tuple[str, Callable[[], bytes] | bytes]] = {
    "empty text": ("a.txt", b""),
    "only spaces": ("a.txt", b"  \n\t \r\n  "),
    "only a byte-order mark": ("a.txt", b"\xef\xbb\xbf"),
    "only a UTF-16 mark": ("a.txt", b"\xff\xfe"),
    "only no-break spaces": ("a.txt", "\xa0\xa0\u3000".encode()),
    "only digits": ("a.txt", b"1234 5678\n9"),
    "only punctuation": ("a.txt", b"... !!! ???"),
    "only emoji": ("a.txt", "😀😀".encode()),
    "only zeros": ("a.txt", bytes(5000)),
    "noise as text": ("a.txt", NOISE),
    "a program as text": ("a.txt", b"\x7fELF\x02\x01\x01" + bytes(200) + NOISE[:300]),
    "a picture as text": ("a.txt", PNG),
    "a photograph as text": ("a.txt", JPEG),
    "a GIF as text": ("a.txt", b"GIF89a" + NOISE[:500]),
    "a packed file as text": ("a.txt", b"\x1f\x8b\x08" + NOISE[:500]),
    "a Word document as text": ("a.txt", good_docx),
    "a PDF as text": ("a.txt", good_pdf),
    "rich text as text": ("a.txt", good_rtf),
    "an old Word file as text": ("a.txt", OLE + NOISE[:600]),
    "5 MB of one word": ("a.txt", b"a" * 5_000_000),
    "text beyond the limit": ("a.txt", SENTENCE.encode() * 100_000),
    "a file beyond the limit": ("a.txt", b"a b\n" * 5_000_001),
    "empty Markdown": ("a.md", b""),
    "Markdown marks alone": ("a.md", b"# \n\n***\n\n- \n> \n"),
    "a Markdown picture alone": ("a.md", b"![My essay](photo.jpg)"),
    "noise as Markdown": ("a.md", NOISE),
    "pages": ("a.pages", b"PK\x03\x04" + NOISE[:500]),
    "old Word": ("a.doc", OLE + NOISE[:600]),
    "picture": ("a.jpg", JPEG),
    "phone picture": ("a.HEIC", NOISE),
    "web page": ("a.html", b"<p>The old boat sank.</p>"),
    "link to a document": ("a.gdoc", b"{}"),
    "archive": ("a.zip", good_docx),
    "unknown ending": ("a.xyz", SENTENCE.encode()),
    "no ending": ("essay", SENTENCE.encode()),
    "ending of spaces": ("a.txt ", SENTENCE.encode()),
    "ending with an escape": ("a.\x1b[31m", SENTENCE.encode()),
    "empty docx": ("a.docx", b""),
    "docx without words": ("a.docx", lambda: word(P.format("  "))),
    "docx without a body": ("a.docx", lambda: word("")),
    "docx cut in half": ("a.docx", lambda: good_docx()[: len(good_docx()) // 2]),
    "docx without its last byte": ("a.docx", lambda: good_docx()[:-1]),
    "docx of four bytes": ("a.docx", b"PK\x03\x04"),
    "docx with a damaged middle": ("a.docx", lambda: damaged(good_docx())),
    "zip that is no docx": ("a.docx", lambda: zipped({"photo.jpg": JPEG})),
    "empty zip": ("a.docx", lambda: zipped({})),
    "odt as docx": ("a.docx", good_odt),
    "text as docx": ("a.docx", SENTENCE.encode()),
    "PDF as docx": ("a.docx", good_pdf),
    "old Word as docx": ("a.docx", OLE + bytes(600)),
    "locked docx": ("a.docx", OLE + bytes(600) + "EncryptedPackage".encode("utf-16-le") + bytes(600)),
    "docx that is no XML": ("a.docx", lambda: zipped({"word/document.xml": SENTENCE})),
    "docx with XML cut off": ("a.docx", lambda: zipped({"word/document.xml": "<w:document><w:body>"})),
    "docx with noise for XML": ("a.docx", lambda: zipped({"word/document.xml": NOISE})),
    "docx with a billion laughs": ("a.docx", lambda: word(P.format("&l9;"), laughs("w:document"))),
    "docx with an outside entity": ("a.docx", lambda: word(P.format("&x;"), OUTSIDE)),
    "docx zip bomb": ("a.docx", lambda: zipped({"word/document.xml": b" " * 100_000_000})),
    "docx zip bomb that lies": ("a.docx", lying_zip),
    "docx deeper than any stack": ("a.docx", lambda: word("<w:p>" * 300_000 + "</w:p>" * 300_000)),
    "docx in an odd compression": ("a.docx", lambda: good_docx().replace(b"\x08\x00", b"\x63\x00")),
    "empty odt": ("a.odt", b""),
    "odt without words": ("a.odt", lambda: opened("<text:p/>")),
    "odt cut in half": ("a.odt", lambda: good_odt()[: len(good_odt()) // 2]),
    "docx as odt": ("a.odt", good_docx),
    "zip that is no odt": ("a.odt", lambda: zipped({"photo.jpg": JPEG})),
    "locked odt": (
        "a.odt",
        lambda: zipped({"META-INF/manifest.xml": "<manifest:encryption-data/>", "content.xml": NOISE}),
    ),
    "odt locked in the newer way": ("a.odt", lambda: zipped({"encrypted-package": NOISE})),
    "odt with a billion laughs": ("a.odt", lambda: opened("<text:p>&l9;</text:p>", laughs("office:body"))),
    "odt with an outside entity": ("a.odt", lambda: opened("<text:p>&x;</text:p>", OUTSIDE)),
    "odt zip bomb": ("a.odt", lambda: zipped({"content.xml": b" " * 100_000_000})),
    "odt manifest bomb": (
        "a.odt",
        lambda: zipped({"META-INF/manifest.xml": b" " * 100_000_000, "content.xml": "<a/>"}),
    ),
    "empty rtf": ("a.rtf", b""),
    "rtf that is none": ("a.rtf", SENTENCE.encode()),
    "rtf cut off": ("a.rtf", lambda: good_rtf()[:-1]),
    "rtf of one brace": ("a.rtf", b"{\\rtf1"),
    "rtf closed at once": ("a.rtf", b"{\\rtf1}" + SENTENCE.encode()),
    "rtf without words": ("a.rtf", b"{\\rtf1\\ansi\\par\\par}"),
    "rtf with endless raw bytes": ("a.rtf", b"{\\rtf1 One \\bin9999999999 two}"),
    "rtf of a million braces": ("a.rtf", b"{\\rtf1" + b"{" * 1_000_000),
    "rtf of a million fonts": ("a.rtf", b"{\\rtf1{\\fonttbl" + b"\\f1" * 1_000_000),
    "rtf of many links": ("a.rtf", b"{\\rtf1" + b"{\\field{\\*\\fldinst{HYPERLINK " * 100_000),
    "docx as rtf": ("a.rtf", good_docx),
    "empty pdf": ("a.pdf", b""),
    "pdf without pages": ("a.pdf", lambda: pdf(None, pages=0)),
    "scanned pdf": ("a.pdf", lambda: pdf(None, pages=2)),
    "pdf of drawings": ("a.pdf", lambda: pdf(b"0 0 m 10 10 l S " * 500)),
    "pdf of page numbers": ("a.pdf", lambda: pdf(b"BT /F1 12 Tf 72 40 Td (1) Tj ET")),
    "locked pdf": ("a.pdf", lambda: good_pdf("secret")),
    "pdf cut in half": ("a.pdf", lambda: good_pdf()[:300]),
    "pdf of its first line": ("a.pdf", b"%PDF-1.7\n"),
    "pdf of noise": ("a.pdf", b"%PDF-1.7\n" + NOISE),
    "text as pdf": ("a.pdf", SENTENCE.encode()),
    "picture as pdf": ("a.pdf", PNG),
    "pdf that goes round in circles": ("a.pdf", looping_pdf),
    "pdf whose pages hold themselves": ("a.pdf", circular_pages),
    "pdf of a billion paintings": ("a.pdf", doubling_pdf),
    "pdf stream bomb": ("a.pdf", flate_bomb),
    "pdf form bomb": ("a.pdf", form_bomb),
    "pdf locked in the newer way": ("a.pdf", pdf_locked_in_the_newer_way),
    "pdf of too many pages": ("a.pdf", lambda: pdf(b"", pages=1001)),
}


def damaged(data: bytes) -> bytes:
    """With the packed bytes of the main part overwritten."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        start = archive.getinfo("word/document.xml").header_offset + 60
    return data[:start] + bytes(40) + data[start + 40 :]
