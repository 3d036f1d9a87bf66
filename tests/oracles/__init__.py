"""What only tests compute, to hold something of the product against it: written once more, here in Python."""
