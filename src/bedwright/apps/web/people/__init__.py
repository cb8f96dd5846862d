"""People: signing in, roles in gardens, invitations."""
