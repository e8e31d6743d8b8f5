"""What is drawn of a job: pictures of its parts, and full-size templates."""
