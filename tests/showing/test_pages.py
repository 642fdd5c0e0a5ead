import os
from pathlib import Path

import pytest

from rubric_kit.errors import RubricKitError
from rubric_kit.scoring.sheet import ScoreSheet
from rubric_kit.showing import pages
from rubric_kit.showing.pages import write_html, write_pdf


def test_a_page_is_written_whole_and_nothing_else_is_left(owls: ScoreSheet, tmp_path: Path) -> None:
    write_html(owls, tmp_path / "new" / "owls.html")
    write_pdf(owls, tmp_path / "new" / "owls.pdf")
    assert sorted(p.name for p in (tmp_path / "new").iterdir()) == ["owls.html", "owls.pdf"]
    assert (tmp_path / "new" / "owls.html").read_text("utf-8").rstrip().endswith("</html>")


def test_an_earlier_page_survives_when_the_disk_is_full(
    owls: ScoreSheet, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = tmp_path / "owls.html"
    page.write_text("earlier")

    def full(self: Path, content: bytes) -> int:
        with self.open("wb") as file:
            file.write(content[:10])
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(pages.Path, "write_bytes", full)
    with pytest.raises(RubricKitError, match=r"owls\.html: cannot be written \(No space left on device\)"):
        write_html(owls, page)
    assert page.read_text() == "earlier"
    assert list(tmp_path.iterdir()) == [page]


def test_a_folder_or_a_device_is_not_written_over(owls: ScoreSheet, tmp_path: Path) -> None:
    with pytest.raises(RubricKitError, match="Name a file"):
        write_html(owls, tmp_path)
    with pytest.raises(RubricKitError, match="Name a file"):
        write_html(owls, os.devnull)


def test_a_file_where_a_folder_should_be_is_said_in_words(owls: ScoreSheet, tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("")
    with pytest.raises(RubricKitError, match="Choose another place"):
        write_html(owls, tmp_path / "taken" / "owls.html")


@pytest.mark.skipif(not hasattr(os, "symlink"), reason="the system has no links")
def test_a_link_keeps_pointing_where_it_did(owls: ScoreSheet, tmp_path: Path) -> None:
    (tmp_path / "link.html").symlink_to(tmp_path / "real.html")
    write_html(owls, tmp_path / "link.html")
    assert (tmp_path / "link.html").is_symlink()
    assert (tmp_path / "real.html").is_file()
