"""Jobs as they were kept on 25 November 2026, one of each form, and the sample site of that day. Never made anew.

Each but the sample was entered by a script through the command line, and stands where that stopped; the curved head
is handed over. They hold digests of their checklists and not the texts, which stand in checklists/earlier.
"""
