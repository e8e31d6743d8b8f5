"""The surface of a roof, held to half planes worked without it, to print, and to itself turned round."""
