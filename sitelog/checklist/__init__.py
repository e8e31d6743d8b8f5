"""What is asked, at which stage, against which limit: loaded from TOML and proved."""
