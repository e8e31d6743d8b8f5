"""What makes a checklist good to work from: each rule finds the places where it is broken."""
