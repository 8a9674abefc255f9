"""Charts of an appliance leaf, drawn by matplotlib once it is loaded; each says in words what it shows."""
