"""Score children's essays on an open rubric, with the sentences behind every level."""
