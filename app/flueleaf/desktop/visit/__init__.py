"""The parts of the visit leaf. Each shows and gives back one piece of the visit's document."""
