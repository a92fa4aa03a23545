"""Where and how a procedure is shown: places worth showing it at, where people can stand, and what it forbids."""
