"""The quote leaf: its parts and its way to the sealed paper."""
