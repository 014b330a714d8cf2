"""bookgen: obstacle records and phone photos in, a book of what is behind each surface out."""

__version__ = "0.1.0"
STOPPED = (
    "\nstopped; what stands is whole, and the last book is as it was. Run the same command again when you are ready."
)
