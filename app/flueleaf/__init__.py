"""Flueleaf, the record book of a one-person heating business."""

__version__ = "0.2.0"
