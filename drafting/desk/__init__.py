"""What is asked for and what becomes of it: drafts, their lays, their files, what would take less cloth."""
