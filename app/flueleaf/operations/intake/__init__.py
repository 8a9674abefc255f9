"""Reading typed or sent documents: each fault named with place, value and what is accepted."""
