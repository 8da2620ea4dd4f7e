"""The pages: each asks for one frozen object of figures and draws it. `sheet_view` is the inside of the audit queue."""
