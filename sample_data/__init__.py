"""Scripts that make the invented region of Beamledger's samples; no part of the product imports them."""
