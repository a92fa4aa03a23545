"""Finding what an official asks for, in the words of whoever asks: the index of everything that can be asked."""
