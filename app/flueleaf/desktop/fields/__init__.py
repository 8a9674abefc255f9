"""Fields: where one types. Each knows its label, keeps what was typed and says its own fault below itself."""
