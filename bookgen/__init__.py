"""bookgen: obstacle records and phone photos in, a book of what is behind each surface out."""

__version__ = "0.1.0"
