"""The contractor's desk: starting a project folder and taking photos in; never writes over anything."""
