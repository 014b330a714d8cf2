"""Where hidden things are: positions, ties, and what lies behind a face."""
