"""Pattern pieces of our own: work wear for a shared kitchen garden."""
