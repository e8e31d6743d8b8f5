"""The screens in a browser: who may come in, the pages that are sent, and the program that is run for each."""
