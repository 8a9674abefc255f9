"""The leaves, one file each; ``leaf.py`` says how to add one."""
