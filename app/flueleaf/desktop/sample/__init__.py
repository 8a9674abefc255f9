"""The sample paper that stands beside a form and follows what is typed into it."""
