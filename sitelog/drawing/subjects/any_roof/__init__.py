"""Any roof drawn: plans, slopes laid flat, sections."""
