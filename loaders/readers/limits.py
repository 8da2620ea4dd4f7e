"""The limits of the readers, each with its reason. A file over one of them is refused before it can hurt."""

KIB = 1024
MIB = 1024 * KIB

# A million wide sheets are about 261 MB as CSV; four times that is still read in memory on a small machine.
MAX_FILE_BYTES = 1024 * MIB
# A wide sheet has about 60 columns; a workbook's own 16,384 is a sign of a stray cell or of an attack.
MAX_COLUMNS = 4096
# The longest honest cell is a remark of a page or two; a larger one is nearly always an unclosed quotation
# mark.
MAX_CELL_BYTES = 64 * KIB
# A column file can claim billions of repeated values in a few bytes; 1 GiB of CSV holds fewer cells than
# this.
MAX_CELLS = 200_000_000

# A workbook of 50,000 wide rows expands to about 100 MB in its largest part.
MAX_MEMBER_BYTES = 256 * MIB
MAX_EXPANDED_BYTES = 512 * MIB
# Spreadsheet XML shrinks 10 to 50 times; deflate cannot pass about 1,032. Small parts are left alone, because
# a few kilobytes of repeated XML harm nobody.
MAX_RATIO = 200
RATIO_FROM_BYTES = 1 * MIB
# A workbook has about ten parts and a few for each sheet.
MAX_MEMBERS = 2000
# A merge is a title or a group of rows; whole-column merges are cut to the used area before this is counted.
MAX_MERGED_CELLS = 1_000_000
# Rows times columns of one sheet once gaps and repeats are counted; 256 MiB of XML hold fewer written cells.
MAX_SHEET_CELLS = 16_000_000
# One text can be referred to by a million cells, or repeated; this is what all cells of a sheet may come to.
MAX_SHEET_TEXT = 512 * MIB
# The formats' own height; a row number beyond it is an attack.
MAX_SHEET_ROWS = 1_048_576

# Characters of a cell or a name that a message shows.
SHOWN_CHARACTERS = 60
# Rows named one by one in a notice, and single notices of one kind before they are summed up.
NAMED_ROWS = 5
MAX_SINGLE_NOTICES = 20
# Records looked at for the delimiter and the usual width, and bytes they may take.
SAMPLE_RECORDS = 100
SAMPLE_BYTES = 256 * KIB
# Rows turned into a frame at a time on the careful path, so that its Python strings stay near 50 MB.
CHUNK_ROWS = 20_000
# A text file has practically no control signs besides tab and line ends; over this share it is not text.
MAX_CONTROL_SHARE = 0.02
