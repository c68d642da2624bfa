"""What the client receives."""
