"""Work lines: what is charged, with the sum as the invoice will have it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from PySide6.QtWidgets import QLabel, QWidget

from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.fields.number_field import NumberField
from flueleaf.desktop.fields.words_field import Word, WordsField
from flueleaf.desktop.section import label
from flueleaf.desktop.visit.cells import Cells
from flueleaf.desktop.visit.ear import Typing
from flueleaf.desktop.visit.form import Form, typed_number
from flueleaf.desktop.visit.part import Part
from flueleaf.desktop.visit.quote_panel import QuotePanel
from flueleaf.desktop.visit.rows_part import TypedRow, TypedRows, narrow_cells
from flueleaf.desktop.visit.typed_quantities import AMOUNT, DISCOUNT, PRICE, VAT
from flueleaf.desktop.words import _
from flueleaf.domain.money.document import Tally
from flueleaf.domain.quantities import Quantity
from flueleaf.domain.records.business import Business

TEXT_PX, UNIT_PX, LABOUR_PX, NET_PX = 188, 60, 68, 72
HELP = _("A line for each thing done or fitted. The next empty line comes by itself.")


class LinesPart(Part):
    """The document's ``lines``. Where no VAT is charged there is no field for it."""

    def __init__(
        self, typing: Typing, business: Business, *, above: QuotePanel | None = None, hint: str = HELP
    ) -> None:
        """Make the part with one empty line.

        Args:
            typing: the desk and the ear.
            business: whose lines they are; one that charges no VAT has no field for it.
            above: what may fill the lines, shown above them.
            hint: what a line is for.
        """
        super().__init__(_("work lines"), typing, name="work_lines")
        self._vat = business.vat == "standard"
        self.set_caution(hint)
        self._above = above
        if above is not None:
            self.add_widget(above)
        self._nets: list[QLabel] = []
        self._summed: Tally | None = None  # what is shown
        self.charged = TypedRows(typing, self._line)
        self._sum = label("", wrap=True)
        self._sum.setObjectName("lines.sum")
        self.add_widget(self.charged)
        self.add_widget(self._sum)
        typing.ear.typed.connect(self._carry_on)

    def fields(self) -> Sequence[QWidget]:
        """Return the fields, line by line, after the buttons above them."""
        return (*(self._above.buttons if self._above is not None else ()), *self.charged.fields())

    def fill(self, lines: Sequence[Mapping[str, Any]]) -> None:
        """Show lines."""
        self.charged.fill([{**line, "labour": "yes"} if line.get("labour") else line for line in lines])
        del self._nets[len(self.charged.rows) :]
        self._summed = None  # what the lines come to stands at rows that may be others now

    def read(self) -> list[dict[str, Any]]:
        """Return the lines as typed."""
        return [{**line, "labour": True} if "labour" in line else line for line in self.charged.read()]

    def locate(self, path: str) -> Field | None:
        """Return the field of a path such as ``lines[1].unit_price``."""
        if path == "lines":
            return next(iter(self.charged.fields()), None)
        if not path.startswith("lines["):
            return None
        number, _, key = path.removeprefix("lines[").partition("]")
        return self.charged.locate(int(number), key.lstrip("."))

    def without_rate(self) -> list[Field]:
        """Return the VAT fields still to be typed: a blank one would count as no VAT at all."""
        if not self._vat:
            return []
        found = (row.form.locate("vat_pct") for row in self.charged.filled())
        return [field for field in found if field is not None and not field.text().strip()]

    def show_sum(self, tally: Tally | None) -> None:
        """Show what each line and all of them come to; None while that cannot be said."""
        if tally is not None and tally is self._summed:
            return  # the same lines as before
        self._summed = tally
        nets = iter(tally.line_nets if tally is not None else ())
        for row, net in zip(self.charged.rows, self._nets, strict=True):
            net.setText(next(nets).shown() if tally is not None and not row.blank else "")
        if tally is None or not tally.line_nets:
            self._sum.setText("")
        elif not self._vat:
            self._sum.setText(_("to pay {payable}", payable=tally.payable.with_sign()))
        else:
            vat = _("VAT {sum}", sum=tally.vat_total.with_sign())
            self._sum.setText(
                _(
                    "net {net} · {vat} · to pay {payable}",
                    net=tally.net.with_sign(),
                    vat=vat,
                    payable=tally.payable.with_sign(),
                )
            )

    def _line(self, number: int) -> TypedRow:
        own = f"lines.{number}"
        form, cells = Form(), narrow_cells()
        cells.put(form.add("text", TextField(f"{own}.text", _("what"))), width_px=TEXT_PX)
        self._number(form, cells, f"{own}.quantity", AMOUNT, 52)
        cells.put(form.add("unit", TextField(f"{own}.unit", _("unit"))), width_px=UNIT_PX)
        self._number(form, cells, f"{own}.unit_price", PRICE, 80)
        if self._vat:
            self._number(form, cells, f"{own}.vat_pct", VAT, 48)
        self._number(form, cells, f"{own}.discount_pct", DISCOUNT, 48)
        labour = WordsField(f"{own}.labour", _("labour"), (Word("yes", _("labour"), "l"),))
        cells.put(form.add("labour", labour), width_px=LABOUR_PX, words=" ")  # the answer says what it is
        net = label("")
        net.setAccessibleName(_("net of the line"))
        self._nets.append(net)
        cells.put_text(net, NET_PX, _("net"))
        cells.set_first(number == 0)
        return TypedRow(form, cells)

    def _number(self, form: Form, cells: Cells, name: str, quantity: Quantity, width_px: int) -> None:
        field = NumberField(name, quantity, show_unit=False, width_px=width_px)
        form.add(name.rpartition(".")[2], field, typed_number)
        cells.put(field, width_px=width_px)

    def _carry_on(self) -> None:
        """Give a line just begun the rate of the line above it; the engineer may type over it."""
        filled = self.charged.filled()
        if not self._vat or len(filled) < 2:
            return
        new, above = filled[-1], filled[-2]
        touched = [field for field in new.form.fields if field.text().strip()]
        rate, before = new.form.locate("vat_pct"), above.form.locate("vat_pct")
        begun = len(touched) == 1 and len(touched[0].text()) == 1
        if rate is not None and before is not None and begun:
            rate.set_text(before.text())
