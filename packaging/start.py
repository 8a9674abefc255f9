"""Sets up what Flueleaf needs and opens the demo book: `python3 packaging/start.py`."""

import sys

if __name__ == "__main__":
    if sys.version_info < (3, 5):
        sys.exit("Flueleaf runs on Python 3.11, 3.12 or 3.13. This is Python %d.%d." % sys.version_info[:2])
    import right_python

    right_python.go_on(__file__, sys.argv[1:])
    import demo_evening

    sys.exit(demo_evening.main(sys.argv[1:]))
