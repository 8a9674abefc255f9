from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from flueleaf.desktop.fields.mail_field import MailField

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


@pytest.mark.usefixtures("keeper")
def test_what_cannot_be_a_mail_address_is_told_and_stays_as_typed(qtbot: QtBot) -> None:
    field = MailField("email", "mail")
    qtbot.addWidget(field)
    assert field.check()  # nobody has to have one
    qtbot.keyClicks(field.edit, "ines.example.org")
    assert not field.check()
    assert field.fault() == ("“ines.example.org”: type a mail address, such as name@example.org, or nothing.")
    assert field.text() == "ines.example.org"
    field.set_text("ines@dunnaker.example")
    assert field.check()
