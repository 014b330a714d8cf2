"""A Book in, files out; the only room that writes books."""
