"""The record of a visit: what was measured and found, appliance by appliance."""
