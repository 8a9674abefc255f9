"""A field for a mail address, which may be left empty."""

from __future__ import annotations

from flueleaf.desktop.fields.field import shortened
from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.words import _
from flueleaf.domain.records.mail import MAIL_ACCEPTED, may_be_mail


class MailField(TextField):
    """A mail address; what cannot be one is told when the field is left, and stays as it was typed."""

    def problem(self) -> str:
        """Return what is wrong: the text as it stands, and what is accepted."""
        if fault := super().problem():
            return fault
        if not self.text().strip() or may_be_mail(self.text()):
            return ""
        return _("“{value}”: type {accepted}.", value=shortened(self.text()), accepted=_(MAIL_ACCEPTED))
