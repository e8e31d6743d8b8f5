"""What a checklist may say: its objects, its grammar, and its TOML read key by key."""
