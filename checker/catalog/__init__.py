"""The fact catalog: what a site can say, in which words, and what each word means."""
