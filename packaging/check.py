"""Sets up what the checks need and runs all of them: `python3 packaging/check.py`."""

import sys

if __name__ == "__main__":
    if sys.version_info < (3, 5):
        sys.exit("Flueleaf runs on Python 3.11, 3.12 or 3.13. This is Python %d.%d." % sys.version_info[:2])
    import right_python

    right_python.go_on(__file__, sys.argv[1:])
    import check_steps

    sys.exit(check_steps.main(sys.argv[1:]))
