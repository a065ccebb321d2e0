"""Days that a client wrote on paper, as entries of the practice; and handing out the paper."""
