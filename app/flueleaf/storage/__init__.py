"""The book: the only place that speaks SQL."""
