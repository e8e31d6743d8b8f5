"""What pages are made of: lists, fields, rows, drawings, the frame."""
