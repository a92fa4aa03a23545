"""Tests. A package of its own name, so that no library that brings a package called tests stands before it."""
