"""Classes found by words, by what plans and reports have, and by all of it at once."""

import hashlib
import sqlite3
from datetime import date

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from parser.archive import Asked, Given, find, opened, parcel_of_plan
from parser.archive.search import match
from parser.clock import Between
from parser.model import Cue, Equipment, Finding, Reading, Report, Source, StatedLength, TalkThrough

from .plans import block, movement, plan, reading

SAID = {
    "rope": "Bore da. Sumo squat, one dumbbell hanging like a bucket. Two squats more, and squatting down. Leave the heavy bell on the floor.",
    "slip": "The ferry is in. Bent over rows, rowing to the ribs. If the bell is heavy, leave it on the slipway floor.",
    "café": "Press it up. A naïve press, no façade. The bucket stays where it is.",
}


def _spoken(text: str, made, findings=()) -> Reading:
    """With a cue of four seconds for each sentence."""
    cues, at = [], 0
    for n, sentence in enumerate(text.split(". ")):
        end = min(len(text), at + len(sentence) + 2)
        cues.append(Cue(start=4.0 * n, end=4.0 * n + 4, chars=(at, end)))
        at = end
    talk = TalkThrough(name=made.source.name, sha256=hashlib.sha256(text.encode()).hexdigest(), format="srt", resolution="cue", duration_s=1800.0, text=text, cues=tuple(cues))
    return Reading(talk=talk, plan=made, report=Report(source=made.source, findings=list(findings)))


def _source(text: str, quote: str, at: float | None = None) -> Source:
    place = text.index(quote)
    return Source(start=at, end=at, quote=quote, chars=(place, place + len(quote)))


@pytest.fixture(scope="module")
def kept(tmp_path_factory):
    """1 rope, 2 slip, 3 café, and 4, a plan alone without a day."""
    with opened(tmp_path_factory.mktemp("found") / "archive.sqlite", create=True) as archive:
        rope = SAID["rope"]
        squat = movement(1, "squat", sources=[_source(rope, "Sumo squat", 4.0)], equipment=["dumbbell"])
        finding = Finding(code="side-missing", severity="error", message="Never the left.", said=[_source(rope, "one dumbbell", 5.0)], block=1, number=1)
        archive.add(
            _spoken(rope, plan(block(squat, "squat + press", format="interval", rounds=3, work_s=40, rest_s=20), equipment=[Equipment(name="dumbbell")],
                               stated_length=StatedLength(seconds=1500, qualifier="under", sources=[])), [finding]),
            given=Given(day=date(2026, 3, 2), coach="Marnie", place="Long Room", tags=("wet", "beginners")))
        archive.add(
            _spoken(SAID["slip"], plan(block("row", format="interval", rounds=4, work_s=30, rest_s=30), block("press", format="tabata", rounds=8, work_s=20, rest_s=10),
                                       equipment=[Equipment(name="kettlebell", alternatives=["dumbbell"])])),
            given=Given(day=date(2026, 3, 9), coach="Ines", tags=("wet",)))
        archive.add(_spoken(SAID["café"], plan(block("press"), block("hamstring stretch", kind="cool_down"), equipment=[Equipment(name="dumbbell", optional=True)])),
                    given=Given(day=date(2026, 3, 16), coach="Marnie", place="Net Loft"))
        alone = movement(1, "pull-up", easier="Hang from the bar")
        archive.add(parcel_of_plan(plan(block(alone), title="Bars"), name="bars.json", sha256="b" * 64))
        yield archive


def found(kept, **asked) -> list[int]:
    made = find(kept, Asked(**asked))
    assert made.found == len(made.hits)
    return [hit.shown.id for hit in made.hits]


# ---------------------------------------------------------------- words


@pytest.mark.parametrize(("phrases", "classes"), [
    (["bucket"], [3, 1]), (["BUCKETS"], [3, 1]), (["squat"], [1]), (["row"], [2]), (["rowing"], [2]), (["heavy bell"], [1]), (["bell heavy"], []),
    (["bell is heavy"], [2]), (["heavy", "bell"], [2, 1]), (["heavy", "ferry"], [2]), (["cafe"], []), (["naive"], [3]), (["facade"], [3]), (["bent-over"], [2]),
    (["hang from the bar"], [4]), (["Bars"], [4]), (["zanzibar"], []), ([""], []), (["!?"], []), (["_"], []),
])
def test_words_and_phrases(kept, phrases, classes):
    assert found(kept, phrases=phrases) == classes


@pytest.mark.parametrize("typed", ['"', '""', '"squat', "squat*", "a OR b", "NOT squat", "squat NEAR(row)", "said:squat", "^squat", "(", "*", "-", "squat AND", "'", "a\0b", "\ud800", "{said}", "+"])
def test_nothing_typed_is_syntax(kept, typed):
    find(kept, Asked(phrases=[typed]))
    find(kept, Asked(phrases=["bell", typed]))


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(st.lists(st.text(max_size=20), min_size=1, max_size=3))
def test_whatever_is_typed(kept, typed):
    made = find(kept, Asked(phrases=typed))
    assert 0 <= len(made.hits) <= made.found <= 4


@pytest.mark.parametrize("word", ["squat OR row", "squat NOT row", "NEAR"])
def test_operators_are_words(kept, word):
    assert found(kept, phrases=[word]) == []


def test_a_query_is_all_quotes():
    assert match(['say "now"', "b"]) == '"say ""now""" AND "b"'
    assert match([" ", "!"]) is None


def test_the_words_around_and_the_moment(kept):
    hit = find(kept, Asked(phrases=["heavy bell"])).hits[0]
    (spot,) = hit.spots
    assert (spot.words, spot.at, spot.what) == ("heavy bell", 12.0, "")
    assert (spot.before, spot.after) == ("… a bucket. Two squats more, and squatting down. Leave the ", " on the floor.")


def test_every_form_of_the_word_is_shown(kept):
    assert [spot.words for spot in find(kept, Asked(phrases=["squat"])).hits[0].spots] == ["squat", "squats", "squatting"]


def test_the_index_agrees_with_a_plain_one(kept):
    """FTS5 with a table of its own text, as SQLite's documentation has it, finds the same."""
    with sqlite3.connect(":memory:") as plain:
        plain.execute("CREATE VIRTUAL TABLE t USING fts5(said, tokenize='porter unicode61 remove_diacritics 2')")
        plain.executemany("INSERT INTO t (rowid, said) VALUES (?, ?)", enumerate(SAID.values(), 1))
        for word in sorted({w for said in SAID.values() for w in said.split()}):
            expected = [row[0] for row in plain.execute("SELECT rowid FROM t WHERE t MATCH ?", [match([word])])]
            assert sorted(set(found(kept, phrases=[word])) - {4}) == expected


def test_by_relevance_the_one_that_says_it_most(tmp_path):
    with opened(tmp_path / "a", create=True) as archive:
        for number, said in enumerate(("bucket and much else that is said here and there", "bucket bucket bucket", "nothing", "else", "more", "yet more")):
            archive.add(reading(plan(block("squat")), text=said), day=date(2026, 3, 10 - number))
        assert [h.shown.id for h in find(archive, Asked(phrases=["bucket"])).hits] == [1, 2]
        assert [h.shown.id for h in find(archive, Asked(phrases=["bucket"], by_relevance=True)).hits] == [2, 1]


# ---------------------------------------------------------------- what plans have


@pytest.mark.parametrize(("asked", "classes"), [
    ({}, [3, 2, 1, 4]), ({"patterns": ["squat"]}, [1]), ({"patterns": ["vertical-push"]}, [3, 2, 1]), ({"patterns": ["vertical-push", "squat"]}, [1]),
    ({"patterns": ["hold"]}, []), ({"muscles": ["triceps"]}, [3, 2, 1]), ({"muscles": ["hamstrings"]}, []),
    ({"equipment": ["dumbbell"]}, [3, 2, 1]), ({"equipment": ["kettlebell"]}, [2]), ({"without": ["dumbbell"]}, [3, 2, 4]), ({"without": ["kettlebell"]}, [3, 2, 1, 4]),
    ({"formats": ["tabata"]}, [2]), ({"formats": ["interval"]}, [2, 1]), ({"formats": ["interval"], "rounds": Between(8, 8)}, []),
    ({"rounds": Between(3, 4)}, [2, 1]), ({"work": Between(30, 45)}, [2, 1]), ({"work": Between(40, 40), "rest": Between(20, 20)}, [1]),
    ({"work": Between(20, 20), "rest": Between(30, 30)}, []), ({"length": Between(1500, 1500)}, [1]), ({"length": Between(1800, 1800)}, [3, 2]),
    ({"since": date(2026, 3, 9)}, [3, 2]), ({"until": date(2026, 3, 9)}, [2, 1]), ({"since": date(2026, 3, 3), "until": date(2026, 3, 9)}, [2]),
    ({"findings": ["side-missing"]}, [1]), ({"coach": " marnie "}, [3, 1]), ({"place": "LONG  ROOM"}, [1]), ({"tags": ["Wet"]}, [2, 1]),
    ({"tags": ["wet", "beginners"]}, [1]), ({"coach": "Marnie", "phrases": ["bucket"], "patterns": ["squat"], "tags": ["wet"], "work": Between(30, 50)}, [1]),
])
def test_all_that_is_asked_has_to_be_so(kept, asked, classes):
    assert found(kept, **asked) == classes


def variants(kept, *names: str) -> frozenset[int]:
    return frozenset(number for number, (base, _) in kept.variants().items() if base in names)


def test_movements_by_their_numbers(kept):
    assert found(kept, movements=[[variants(kept, "squat")]]) == [1]
    assert found(kept, movements=[[variants(kept, "press")]]) == [3, 2, 1]
    assert found(kept, movements=[[variants(kept, "squat"), variants(kept, "press")]]) == [1], "both in one movement"
    assert found(kept, movements=[[variants(kept, "row"), variants(kept, "press")]]) == [], "each in one of its own"
    assert found(kept, movements=[[variants(kept, "row")], [variants(kept, "press")]]) == [2]
    assert found(kept, movements=[[variants(kept, "march")]]) == [], "no class has it"


def test_a_movement_shows_where_it_was_said(kept):
    (hit,) = find(kept, Asked(movements=[[variants(kept, "squat")]])).hits
    assert [(s.what, s.at, s.words) for s in hit.spots] == [("squat", 4.0, "Sumo squat"), ("squat", None, "squat")]


def test_a_finding_shows_what_it_is(kept):
    (hit,) = find(kept, Asked(findings=["side-missing"])).hits
    assert [(s.what, s.at, s.words) for s in hit.spots] == [("Never the left.", 5.0, "one dumbbell")]
    assert (hit.coach, hit.place, hit.tags) == ("Marnie", "Long Room", ["beginners", "wet"])


def test_how_many_there_are_and_the_first_of_them(kept):
    made = find(kept, Asked(limit=2))
    assert made.found == 4 and [hit.shown.id for hit in made.hits] == [3, 2]
