"""What a service record states: the record of a visit."""

from __future__ import annotations

from flueleaf.papers.record.facts import Record

Facts = Record
