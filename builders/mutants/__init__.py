"""Small faults put into what decides, one at a time, to see whether the tests of the package notice: `make mutants`."""
