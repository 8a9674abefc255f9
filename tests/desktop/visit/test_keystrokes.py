"""A repeat service visit by keys alone: how many presses, and how long by the keystroke-level model."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from tests.desktop.visit.keystroke_model import H_S, K_S, M_S, P_S, KeystrokeModel
from tests.desktop.visit.typist import Typist

from flueleaf.desktop.place import Place
from flueleaf.desktop.visit.signed_visit import SignedVisitLeaf

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.window import MainWindow

CTRL = Qt.KeyboardModifier.ControlModifier
# What the analyser printed at the boiler of the worked evening: at the air inlet, at high and at low rate.
SLIPS = (
    ("20.9", "0.0"),
    ("4.9", "9.2", "70", "0.0008", "56", "18"),
    ("5.6", "8.8", "17", "0.0002", "44", "18"),
)
LINE = ("Service", "1", "visit", "78.00", "20")
MOST_PRESSES, LONGEST_S = 60, 150.0  # our own measure of a calm evening
SEALING_S = 2.0  # what is allowed for the waiting while record and invoice are sealed; not measured here


class CountedTypist(Typist):
    """Types as ever, and tells the model."""

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self.model = KeystrokeModel()

    def press(self, key: Qt.Key, modifiers: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        self.model.key(f"{key.name}{modifiers}", modifiers=modifiers.value.bit_count())
        super().press(key, modifiers)

    def write(self, text: str) -> None:
        self.model.value(text)
        super().write(text)

    def answer(self, letter: str) -> None:
        self.model.answer()
        super().answer(letter)

    def values(self, texts: tuple[str, ...]) -> None:
        for text in texts:
            self.write(text)
            self.enter()


@pytest.fixture
def typist(window: MainWindow) -> CountedTypist:
    """On the leaf of premises with one known boiler, before anything is pressed."""
    window.go(Place("premises", "1"))
    return CountedTypist(window)


def type_readings(typist: CountedTypist) -> None:
    """Type the slips, each taken into the hand and laid down."""
    typist.press(Qt.Key.Key_G, CTRL)
    for n, slip in enumerate(SLIPS):
        typist.model.hand(2)
        typist.values(slip)
        while typist.here.startswith(f"works.0.slips.{n}."):
            typist.enter()


def type_repeat_visit(typist: CountedTypist) -> None:
    """From the premises to sealed papers: times, three slips, five checks, one line, sign-off."""
    typist.press(Qt.Key.Key_N, CTRL)
    typist.reach("arrived")
    typist.values(("0910", "1005"))
    type_readings(typist)
    for letter in "yyyyy":  # three checks of combustion, two of safety
        typist.answer(letter)
    typist.press(Qt.Key.Key_PageDown)
    typist.answer("y")  # both test points closed again
    typist.answer("y")
    typist.press(Qt.Key.Key_F8)
    typist.press(Qt.Key.Key_F8)
    typist.reach("works.0.outcome")
    typist.answer("l")
    typist.press(Qt.Key.Key_L, CTRL)
    typist.values(LINE)
    typist.press(Qt.Key.Key_PageDown)
    typist.reach("sign_off.customer_name")
    typist.values(("Perran Quillstone",))
    typist.answer("s")
    typist.press(Qt.Key.Key_Return, CTRL)
    typist.model.wait(SEALING_S)


def test_a_repeat_visit_takes_few_presses_and_little_time(
    typist: CountedTypist, qtbot: QtBot, capsys: pytest.CaptureFixture[str]
) -> None:
    type_repeat_visit(typist)
    window = typist.window
    qtbot.waitUntil(lambda: isinstance(window.leaf, SignedVisitLeaf), timeout=60_000)
    assert isinstance(window.leaf, SignedVisitLeaf)
    with capsys.disabled():
        print(f"\nrepeat visit: {typist.presses} presses beside {typist.typed} typed characters")
        print(f"keystroke-level model: {typist.model}")
    assert typist.presses <= MOST_PRESSES
    assert typist.model.pointings == 0
    assert typist.model.seconds < LONGEST_S
    numbers = {row[0] for row in window.desk.book.con.execute("SELECT number FROM sealed_paper")}
    assert {number[0] for number in numbers} == {"R", "I"}
    assert len(numbers) == 4  # record and invoice of the evening before, and of this one


def test_the_model_adds_up_its_operators() -> None:
    model = KeystrokeModel()
    model.hand(2)
    model.value("56")
    for _ in range(3):
        model.key("Return")
    model.key("G", modifiers=1)
    model.answer()
    model.point()
    model.wait(0.5)
    # 2 + 3 + 2 + 1 keys; preparations: the value, the run of one key, the chord, the answer, the pointing.
    assert model.seconds == pytest.approx(8 * K_S + P_S + 2 * H_S + 5 * M_S + 0.5)


def test_a_model_of_a_longer_way_is_over_the_limit(typist: CountedTypist) -> None:
    for _ in range(60):
        typist.model.point()
        typist.model.hand(2)
    assert typist.model.seconds > LONGEST_S
