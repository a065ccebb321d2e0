"""How fast the program itself is, measured where it stands. No test depends on it; may import every pure room."""
