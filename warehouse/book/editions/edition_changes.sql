-- grain: one difference of one entry in one book from the edition before, in printed order: the many that only moved last
SELECT book, category, kind, entry_no, hunter, place_was, place_is, what
FROM edition_change
WHERE edition_no = $edition
ORDER BY book, category, list_position(['new', 'corrected', 'withdrawn', 'moved'], kind),
         coalesce(place_is, place_was), entry_id
