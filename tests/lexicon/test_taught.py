"""A coach's own names: kept in a file of theirs, or explained within one talk."""

import pytest

from lexicon import check, load, teach


@pytest.fixture
def file(tmp_path):
    return tmp_path / "own" / "words.toml"


def test_a_taught_name_means_its_movement(file):
    teach(file, "the top shelf", "single-arm overhead press")
    words = load(file)
    for speech in ("the top shelf", "top shelf", "now the top shelf for ten"):
        (match,) = words.scan(speech.split())
        assert (match.name, match.rung, match.score, match.sides) == ("single-arm overhead press", "taught", 100, "each")
    assert words.find("the top shelf").name == "single-arm overhead press"


def test_it_may_mean_a_chain(file):
    teach(file, "the ladder to the loft", "hammer curl into an overhead press")
    match = load(file).find("the ladder to the loft")
    assert match.name == "hammer curl + overhead press"
    assert match.parts[1].link == "then"


def test_it_takes_modifiers(file):
    teach(file, "top shelf", "overhead press")
    assert load(file).find("half-kneeling top shelf").name == "half-kneeling overhead press"


def test_the_shipped_lexicon_does_not_learn(file):
    teach(file, "the top shelf", "single-arm overhead press")
    assert load(file).find("the top shelf")
    assert load().find("the top shelf") is None


def test_teaching_again_replaces(file):
    teach(file, "the top shelf", "overhead press")
    teach(file, "The Top Shelf", "push press")
    assert load(file).find("the top shelf").name == "push press"
    assert file.read_text(encoding="utf-8").count("[[word]]") == 1


def test_several_names_are_kept_with_any_letters(file):
    teach(file, 'the "quay" \\ one', "squat")
    teach(file, "l'écluse", "goblet squat")
    assert check(file) == []
    words = load(file)
    assert words.find("l'écluse").name == "goblet squat"
    assert words.find('the "quay" \\ one').name == "squat"


@pytest.mark.parametrize(("name", "means", "says"), [
    ("the top shelf", "a cup of tea", "“a cup of tea” is no movement that the lexicon knows"),
    ("goblet squat", "front squat", "already the goblet squat"),
    ("...", "squat", "holds no word"),
    ("the top shelf", " ", "nothing is said"),
])
def test_what_cannot_be_taught_is_told(file, name, means, says):
    with pytest.raises(ValueError, match=says):
        teach(file, name, means)
    assert not file.exists()


@pytest.mark.parametrize(("text", "says"), [
    ('[[word]]\nname = "top shelf"\n', "`means` is missing. Add a line such as means = "),
    ('[[word]]\nname = "top shelf"\nmeans = "tea"\n', "“tea” is no movement"),
    ('[[word]]\nname = "a b"\nmeans = "squat"\n[[word]]\nname = "a b"\nmeans = "lunge"\n', "there twice"),
    ('[[words]]\nname = "a b"\n', "Write each name under [[word]]"),
    ('[[word]]\nname = "a b"\nmeans = "squat"\nmean = "lunge"\n', "`mean` is not a known line"),
    ("word = 3\n", "Write each name under [[word]]"),
    ("[[word]\n", "not valid TOML"),
])
def test_a_file_of_own_words_is_checked(tmp_path, text, says):
    path = tmp_path / "words.toml"
    path.write_text(text, encoding="utf-8")
    problems = check(path)
    assert any(says in p for p in problems), problems
    assert all(p.startswith("words.toml") for p in problems)


def test_teaching_into_a_broken_file_leaves_it_alone(tmp_path):
    path = tmp_path / "words.toml"
    path.write_text("[[word]\n", encoding="utf-8")
    with pytest.raises(ValueError, match="Nothing was written"):
        teach(path, "top shelf", "press")
    assert path.read_text(encoding="utf-8") == "[[word]\n"


def test_a_missing_file_is_the_callers_to_tell(tmp_path):
    with pytest.raises(FileNotFoundError):
        load(tmp_path / "none.toml")


def test_a_name_explained_in_one_talk(lexicon):
    talk = lexicon.with_taught("the top shelf", "single arm overhead press").with_taught("the gangplank", "side plank")
    assert [m.name for m in talk.scan("the top shelf then the gangplank".split())] == ["single-arm overhead press", "side plank"]
    assert lexicon.find("the top shelf") is None
    with pytest.raises(ValueError, match="no movement"):
        lexicon.with_taught("the gangplank", "the way to the boat")
