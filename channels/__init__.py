"""See DEVELOPERS.md for what lives where."""
