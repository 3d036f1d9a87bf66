"""A site in parts, built one by one, and how they are joined."""
