"""The lexicon kept between two calls: read again only where it is whole, one's own, and of the same data."""

import os
import pickle

import pytest

from lexicon import Lexicon, cache
from lexicon.build import _made

pytestmark = pytest.mark.skipif(not hasattr(os, "geteuid"), reason="nothing is kept where files have no owner")
SAID = "three goblet squats then a dead lift into a push-up with a dumbbell roll your shoulders side plank".replace("-", " ").split()


class Maker:
    def __init__(self, trade):
        self.trade, self.calls = trade, 0

    def __call__(self):
        self.calls += 1
        return self.trade


@pytest.fixture(scope="module")
def trade():
    return _made()


@pytest.fixture
def make(trade, tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    maker = Maker(trade)
    assert cache.cached(maker) is trade
    return maker


@pytest.fixture
def file(make, tmp_path):
    (found,) = (tmp_path / "planaloud").iterdir()
    return found


def test_it_is_made_once_and_then_read(make, trade):
    read = cache.cached(make)
    assert make.calls == 1 and read is not trade
    assert Lexicon(read).scan(SAID) == Lexicon(trade).scan(SAID) != []
    assert Lexicon(read).movements() == Lexicon(trade).movements()


def test_only_its_owner_can_read_or_write_it(file):
    assert file.stat().st_mode & 0o077 == 0 and file.parent.stat().st_mode & 0o077 == 0


def test_of_other_data_or_code_it_is_made_again(make, monkeypatch):
    monkeypatch.setattr(cache, "_made_of", lambda: b"another edition")
    cache.cached(make)
    cache.cached(make)
    assert make.calls == 2


def test_the_data_and_the_code_both_tell(tmp_path, monkeypatch):
    before = cache._made_of()
    (tmp_path / "movements-more.toml").write_text("")
    monkeypatch.setattr(cache, "FOLDER", tmp_path)
    assert cache._made_of() != before


@pytest.mark.parametrize("spoil", [
    lambda content: content[:-1], lambda content: b"", lambda content: content[:5000] + b"\0" + content[5001:], lambda content: content + b"x",
], ids=["cut off", "empty", "a byte changed", "a byte more"])
def test_what_is_not_whole_is_made_again_and_put_right(make, file, spoil):
    file.write_bytes(spoil(file.read_bytes()))
    cache.cached(make)
    cache.cached(make)
    assert make.calls == 2


@pytest.mark.parametrize("which", ["file", "folder"])
def test_what_others_could_have_written_is_not_read(make, file, which):
    (file if which == "file" else file.parent).chmod(0o777)
    cache.cached(make)
    assert make.calls == 2


def test_a_link_is_not_followed(make, file, tmp_path):
    file.rename(tmp_path / "elsewhere")
    file.symlink_to(tmp_path / "elsewhere")
    cache.cached(make)
    assert make.calls == 2


class Caller:
    def __init__(self, what, *arguments):
        self.what, self.arguments = what, arguments

    def __reduce__(self):
        return self.what, self.arguments


@pytest.mark.parametrize("what", [os.mkdir, eval, Lexicon.scan], ids=["of the system", "built in", "of the lexicon, but no class"])
def test_what_it_holds_can_call_nothing(make, file, tmp_path, what):
    content = pickle.dumps(Caller(what, str(tmp_path / "done")))
    file.write_bytes(cache._DIGEST(cache._made_of() + content).digest() + content)
    cache.cached(make)
    assert make.calls == 2 and not (tmp_path / "done").exists()


@pytest.mark.parametrize("where", ["a file stands there", "no home"])
def test_where_it_cannot_be_kept_it_is_made(make, tmp_path, monkeypatch, where):
    (tmp_path / "file").write_text("")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "file") if where == "a file stands there" else "")
    if where == "no home":
        monkeypatch.setattr(cache.Path, "home", lambda: (_ for _ in ()).throw(RuntimeError("no home")))
    assert cache.cached(make) is make.trade and make.calls == 2


def test_what_cannot_be_made_is_told_and_not_kept(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))

    def bad():
        raise ValueError("movements-core.toml: a fault")

    with pytest.raises(ValueError, match="a fault"):
        cache.cached(bad)
    assert list((tmp_path / "planaloud").iterdir()) == []
