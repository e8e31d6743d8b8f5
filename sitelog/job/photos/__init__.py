"""Photos beside a job: taken apart, cleaned, kept by their hash, found again."""
