"""The checks, one module for each part of the contract."""
