"""A file is written whole or not at all, and never over another without being asked."""

import os
import stat
from pathlib import Path

import pytest

from parser import output
from parser.errors import OutputRefused


def test_written_as_utf_8_and_nothing_left_beside_it(run, stages, tmp_path):
    target = tmp_path / "plan.md"
    result = run("plan", "a.vtt", "--format", "md", "-o", str(target))
    assert (result.code, result.out, result.err) == (0, "", "")
    assert target.read_bytes().decode("utf-8").startswith("# Class of a.vtt\n")
    assert list(tmp_path.iterdir()) == [target]


def test_never_over_a_file_without_force(run, stages, tmp_path):
    target = tmp_path / "plan.md"
    target.write_text("mine")
    result = run("plan", "a.vtt", "-o", str(target))
    assert result.code == 2
    assert result.err == f"planaloud: {target} is there already. Add --force to write over it, or choose another name.\n"
    assert target.read_text() == "mine"
    assert stages.asked == []  # refused before the work, not after it
    assert run("plan", "a.vtt", "-o", str(target), "--force").code == 0
    assert target.read_text().startswith("Class of a.vtt")


def test_never_over_what_is_being_read(run, stages, tmp_path):
    talk = tmp_path / "a.vtt"
    talk.write_text("WEBVTT")
    result = run("plan", str(talk), "-o", str(talk), "--force")
    assert result.code == 2 and "is what is being read" in result.err
    assert talk.read_text() == "WEBVTT"


def test_no_folder_to_write_into(run, stages, tmp_path):
    result = run("plan", "a.vtt", "-o", str(tmp_path / "none" / "plan.md"))
    assert result.code == 2 and "There is no folder" in result.err


def test_not_over_a_folder_or_a_device(run, stages, tmp_path):
    for target in (str(tmp_path), os.devnull):
        result = run("plan", "a.vtt", "-o", target, "--force")
        assert result.code == 2 and "is not an ordinary file" in result.err
    assert stat.S_ISCHR(os.stat(os.devnull).st_mode)


def test_a_write_that_fails_leaves_the_old_file_whole(tmp_path, monkeypatch):
    target = tmp_path / "plan.md"
    target.write_text("old")

    def full(handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(output.os, "fsync", full)
    with pytest.raises(OutputRefused, match="No space left on device. Nothing was changed"):
        output.write_file("new", target, force=True)
    assert target.read_text() == "old"
    assert list(tmp_path.iterdir()) == [target]


@pytest.mark.parametrize("links", [True, False])
def test_a_file_that_came_to_be_meanwhile_is_kept(tmp_path, monkeypatch, links):
    target = tmp_path / "plan.md"
    checked = output.check_target

    def then_someone_else_writes(path, **options):
        checked(path, **options)
        target.write_text("theirs")

    monkeypatch.setattr(output, "check_target", then_someone_else_writes)
    if not links:
        def no_links(*_):
            raise PermissionError(1, "Operation not permitted")

        monkeypatch.setattr(output.os, "link", no_links)
    with pytest.raises(OutputRefused):
        output.write_file("ours", target, force=False)
    assert target.read_text() == "theirs"


def test_a_link_stays_a_link_and_permissions_stay(tmp_path):
    real, link = tmp_path / "real.md", tmp_path / "link.md"
    real.write_text("old")
    real.chmod(0o640)
    link.symlink_to(real)
    output.write_file("new", link, force=True)
    assert link.is_symlink() and real.read_text() == "new"
    assert stat.S_IMODE(real.stat().st_mode) == 0o640


def test_a_new_file_has_the_usual_permissions(tmp_path):
    before = os.umask(0o022)
    try:
        output.write_file("new", tmp_path / "plan.md", force=False)
    finally:
        os.umask(before)
    assert stat.S_IMODE((tmp_path / "plan.md").stat().st_mode) == 0o644


def test_a_file_gets_no_styles_even_from_a_terminal(monkeypatch):
    monkeypatch.setattr(output.sys, "stdout", type("Terminal", (), {"isatty": lambda self: True})())
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setenv("COLUMNS", "200")
    assert output.look(Path("plan.txt")) == output.Look()
    assert output.look(None) == output.Look(width=100, styled=True)
    monkeypatch.setenv("TERM", "dumb")
    assert not output.look(None).styled
