"""Takes the pictures of the program: `python3 packaging/shots.py [--out FOLDER]`."""

import sys

if __name__ == "__main__":
    if sys.version_info < (3, 5):
        sys.exit("Flueleaf runs on Python 3.11, 3.12 or 3.13. This is Python %d.%d." % sys.version_info[:2])
    import right_python

    right_python.go_on(__file__, sys.argv[1:])
    import subprocess

    import debian
    import setup_env

    try:
        setup_env.prepare("run", debian.OFFSCREEN)
    except debian.SetupProblem as problem:
        sys.exit(str(problem))
    script = str(setup_env.TOP / "packaging" / "picture_set.py")
    sys.exit(subprocess.run([str(setup_env.PYTHON), script, *sys.argv[1:]], check=False).returncode)
