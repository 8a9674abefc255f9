"""Papers: plain facts in, PDF bytes out."""
