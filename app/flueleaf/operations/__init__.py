"""One function for each thing a person can do; one transaction each."""
