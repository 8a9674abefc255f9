"""One folder a paper kind; the registry finds them."""
