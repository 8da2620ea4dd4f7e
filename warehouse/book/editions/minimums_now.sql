-- grain: one minimum of one book under one version of its rules, for the seasons that both were in force
SELECT m.book, m.category, m.weapon_class, coalesce(m.antler_state, 'any') AS antler_state, m.minimum_units,
       b.score, b.tie_rule,
       concat_ws('; ',
           CASE WHEN len(b.weapons) > 0 THEN 'taken by ' || array_to_string(b.weapons, ', ') ELSE 'taken with any weapon' END,
           CASE WHEN b.takes_found THEN 'heads that were found are taken' ELSE 'no heads that were found' END,
           'measured ' || b.drying_days || ' days or more after it was taken',
           CASE WHEN len(b.certificates) > 0 THEN 'by a measurer with a certificate of the kind ' || array_to_string(b.certificates, ' or ')
                ELSE 'by a certified measurer' END,
           CASE WHEN len(b.states) + len(b.districts) + len(b.areas) > 0
                THEN 'from ' || array_to_string(list_concat(b.states, b.districts, b.areas), ', ') ELSE 'from anywhere' END,
           CASE WHEN b.measured_within_days IS NOT NULL THEN 'measured no later than ' || b.measured_within_days || ' days after the season' END,
           CASE WHEN b.received_within_days IS NOT NULL THEN 'received no later than ' || b.received_within_days || ' days after the season' END
       ) AS rules,
       greatest(m.first_season, b.first_season) AS first_season,
       least(m.last_season, b.last_season) AS last_season  -- of two, the one that is not null
FROM minimum m
JOIN record_book b ON b.book = m.book
    AND (b.last_season IS NULL OR m.first_season <= b.last_season)
    AND (m.last_season IS NULL OR b.first_season <= m.last_season)
ORDER BY ALL
