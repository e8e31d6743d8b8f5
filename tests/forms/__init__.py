"""The forms of roof that ship, each gone through as a job: what is measured drives what follows."""
