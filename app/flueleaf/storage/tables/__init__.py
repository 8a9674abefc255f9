"""The shipped tables: TOML files read into frozen domain objects."""
