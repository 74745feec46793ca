"""From what is dead and what works to the joint: suspects, checks, and the next check to make. Pure."""
