"""What the tests of single outputs share: plans to put out, and names that would like to be more than names."""

from hypothesis import strategies as st

from parser.build.totals import totals
from parser.model import Block, Plan, Sides

from .examples import movement, source

# Tags, formulas, quotes, arrows, direction marks, control characters, line ends, and what the formats themselves use.
HOSTILE = [
    "<script>alert(1)</script>", "<b>row</b> & </style>", "=1+1", "+row", "-row", "@SUM(A1)", "\t=1", "\r=1", "row;=1+1", 'a "quoted", row', "a --> b",
    "00:01.000 --> 00:02.000", "NOTE row", "\u202eback", "\u2066x\u2069", "\x00\x1b[31m", "two\nlines", "two\r\nlines", "\u2028", "END:VEVENT", "a\\nb", "a;b,c\\",
    "{{ 7 * 7 }}", "&lt;b&gt;", "' onclick='x", "🏋️ row", "שורה", "x" * 400,
]
ANY_TEXT = st.text(alphabet=st.characters(exclude_categories=("Cs",)), max_size=60) | st.sampled_from(HOSTILE)


def eight_bouts(name: str = "jump squat", *, rounds: int = 4) -> Plan:
    """Two movements that take turns, 20 s and 10 s: eight bouts, 230 s (Tabata et al. 1996, DOI 10.1097/00005768-199610000-00018)."""
    return with_totals(Block(kind="main", format="tabata", work_s=20, rest_s=10, rounds=rounds, movements=[movement(1, name), movement(2, "mountain climber")]))


def sided() -> Plan:
    return with_totals(
        Block(kind="main", format="interval", work_s=50, rest_s=10, rounds=3, round_rest_s=75, movements=[
            movement(1, "sumo squat"), movement(2, "single-arm row", sides=Sides(mode="each", seconds_each=25, first="right"))]))


def with_totals(*blocks: Block, **more) -> Plan:
    return Plan(source=source("ropewalk.md"), blocks=list(blocks), totals=totals(blocks), **more)
