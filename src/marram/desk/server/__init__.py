"""The server: the application, who may come in, the socket of a moving ball, and how it is started."""
