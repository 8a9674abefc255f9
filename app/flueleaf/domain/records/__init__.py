"""What the book keeps, as plain frozen records."""
