"""A folder of pages is written whole or not at all, and no other folder is ever taken for one."""

import os

import pytest

from parser import output
from parser.errors import OutputRefused

PAGES = [("index.html", "all"), ("class-1.html", "one")]


def held(folder):
    return {p.name: p.read_text() for p in folder.iterdir() if not p.name.startswith(".")}


def test_written_and_nothing_left_beside_it(tmp_path):
    assert output.write_folder(PAGES, tmp_path / "site", force=False) == 2
    assert held(tmp_path / "site") == dict(PAGES)
    assert [p.name for p in tmp_path.iterdir()] == ["site"]


def test_into_an_empty_folder(tmp_path):
    (tmp_path / "site").mkdir()
    output.write_folder(PAGES, tmp_path / "site", force=False)
    assert held(tmp_path / "site") == dict(PAGES)


def test_pages_written_before_go_only_with_force_and_all_of_them(tmp_path):
    output.write_folder(PAGES, tmp_path / "site", force=False)
    with pytest.raises(OutputRefused, match="has pages already. Add --force"):
        output.write_folder(PAGES[:1], tmp_path / "site", force=False)
    assert held(tmp_path / "site") == dict(PAGES)
    output.write_folder(PAGES[:1], tmp_path / "site", force=True)
    assert held(tmp_path / "site") == dict(PAGES[:1])


def test_a_folder_of_other_things_is_left_alone_even_with_force(tmp_path):
    site = tmp_path / "site"
    site.mkdir()
    (site / "index.html").write_text("mine")
    with pytest.raises(OutputRefused, match="holds other things"):
        output.write_folder(PAGES, site, force=True)
    assert held(site) == {"index.html": "mine"}


def test_a_file_put_among_the_pages_is_left_alone(tmp_path):
    site = tmp_path / "site"
    output.write_folder(PAGES, site, force=False)
    (site / "notes.txt").write_text("mine")
    with pytest.raises(OutputRefused, match=r"also holds notes\.txt"):
        output.write_folder(PAGES, site, force=True)
    assert held(site) == {**dict(PAGES), "notes.txt": "mine"}


def test_not_over_a_file_nor_where_no_folder_is(tmp_path):
    (tmp_path / "file").write_text("mine")
    with pytest.raises(OutputRefused, match="is no folder"):
        output.write_folder(PAGES, tmp_path / "file", force=True)
    with pytest.raises(OutputRefused, match="There is no folder"):
        output.write_folder(PAGES, tmp_path / "none" / "site", force=True)


@pytest.mark.parametrize("name", ["../out.html", "a/b.html", "/etc/x.html", "..", "", "a", ".x.html", "A.html", "con\x00.html"])
def test_no_name_leads_out_of_it(tmp_path, name):
    with pytest.raises(ValueError, match="no plain name"):
        output.write_folder([(name, "x")], tmp_path / "site", force=False)
    assert list(tmp_path.iterdir()) == []


def failing(trouble):
    yield PAGES[0]
    raise trouble


@pytest.mark.parametrize("trouble", [OSError(28, "No space left on device"), RuntimeError("ours"), KeyboardInterrupt()])
def test_stopped_half_way_leaves_what_was_there(tmp_path, trouble):
    output.write_folder(PAGES, tmp_path / "site", force=False)
    expected = OutputRefused if isinstance(trouble, OSError) else type(trouble)
    with pytest.raises(expected):
        output.write_folder(failing(trouble), tmp_path / "site", force=True)
    assert held(tmp_path / "site") == dict(PAGES) and [p.name for p in tmp_path.iterdir()] == ["site"]


def test_old_pages_come_back_where_the_new_cannot_be_put(tmp_path, monkeypatch):
    output.write_folder(PAGES, tmp_path / "site", force=False)
    real = os.replace

    def replace(one, other):
        if str(one).endswith(".part"):
            raise PermissionError(13, "Permission denied")
        real(one, other)

    monkeypatch.setattr(output.os, "replace", replace)
    with pytest.raises(OutputRefused, match=r"Permission denied\. Nothing was changed"):
        output.write_folder(PAGES[:1], tmp_path / "site", force=True)
    assert held(tmp_path / "site") == dict(PAGES) and [p.name for p in tmp_path.iterdir()] == ["site"]


def test_through_a_link_the_folder_itself_is_replaced(tmp_path):
    output.write_folder(PAGES, tmp_path / "site", force=False)
    (tmp_path / "link").symlink_to(tmp_path / "site")
    output.write_folder(PAGES[:1], tmp_path / "link", force=True)
    assert (tmp_path / "link").is_symlink() and held(tmp_path / "site") == dict(PAGES[:1])
