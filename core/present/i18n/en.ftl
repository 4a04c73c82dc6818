## the language itself

language-name = English
number-decimal-mark = .
number-group-mark = ,

## sentences/supplies

supplies-order-now = Order now.
supplies-order-by = Order by { $day }.
supplies-how-much-there-never-noted = Stock unknown: count it once and note it.
supplies-there-counted = { $amount } in stock: your count of { $day }, plus deliveries, minus use.
supplies-usable-there = { $amount } usable there, { $expired } expired.
supplies-there-by-what-noted-as = { $amount } there, by what was noted as received.
supplies-more-used-than-ever-noted = { $short } more were used than were ever noted as there: count again.
supplies-how-fast-goes-not-known = How fast it is used is not known yet: a week of entries, or two counts two weeks apart, would show it.
supplies-open = open
supplies-runs-out-about-nine-times = Runs out about { $expected } (nine times in ten from { $earliest } to { $until }).
supplies-runs-out-about = Runs out about { $expected }.
supplies-lot = lot
supplies-expired-on-do-not-use = { $amount }{ $lot } expired on { $day }: do not use, and note it as thrown away.
supplies-good-until-about-will-not = { $amount }{ $lot } good until { $day }; about { $left } of them will not be used by then.
supplies-good-until-use-first = { $amount }{ $lot } good until { $day }: use first.
supplies-units = units
supplies-day = { $amount }{ $space }{ $unit } a day
supplies-sensor-lasts-days-on-average = A sensor lasts { $mean } days on average (standard deviation { $sd }).
supplies-ended-early-or-had-fault = { $hits } of { $of } ended early or had a fault (95 %: { $low } to { $high } %).
supplies-reckoned-with-rated-days-sensor = Reckoned with the rated { $days } days a sensor, until two have ended.
supplies-from-days-log-what-used = { $a_day }, from { $days } days of the log; use that was not logged is not counted.
supplies-from-your-counts = { $a_day }, from your counts.
supplies-nothing-noted-on-days = Nothing was noted on { $days } days: use is reckoned without them, and as much as on other days is taken to be gone.
supplies-offered = offered
supplies-paid = paid
supplies-unit = { $each } a unit
supplies-gram = { $each } a gram
supplies-each = { $each } each
supplies-day-wear-year = { $a_day } a day of wear, { $a_year } a year
supplies-day-year = { $a_day } a day, { $a_year } a year
supplies-use-not-known-yet = use not known yet
supplies-from-to-sensor-readings-covering = From { $from } to { $until }: { $readings } sensor { $readings ->
    [one] reading
   *[other] readings
    }, covering { $share } % of the time.
supplies-as-logged-meter-checks-and = As logged: { $checks } meter checks and { $doses } doses of insulin a day.
supplies-glucose-below-for-quarter-hour = Glucose was below { $low } for a quarter of an hour or longer { $lows } { $lows ->
    [one] time
   *[other] times
    }, { $night } of them at night, and below { $floor } { $serious } { $serious ->
    [one] time
   *[other] times
    }.
supplies-meter-checks-below = Meter checks below { $low }: { $count }.
supplies-of = { $hits } of { $of }
supplies-with-sensors-data-alert-at = With the sensor's data, an alert at the lines set would have come for { $warned } of these lows; for { $announced } of them { $notice_minutes } min or more before the low began.
supplies-before-those-went-below-middle = Before those that went below { $floor }, the median warning was { $minutes } min (rescue carbohydrate takes about { $notice_minutes } min to act).
supplies-without-sensors-data-log-shows = Without the sensor's data, the log shows a meter check below { $low }, or that it was felt, for { $seen } of them.
supplies-at-night = At night that is { $seen }.
supplies-signs-need-another-persons-help = Signs that need another person's help were noted { $severe } { $severe ->
    [one] time
   *[other] times
    }.
supplies-what-felt-or-measured-and = What was felt or measured and not logged is not in these figures.

## sentences/alerts

alerts-of-2 = { $count } of { $all } alerts
alerts-alerts-by-day-day = alerts by day, a day
alerts-alerts-by-night-night = alerts by night, a night
alerts-lost-signal = no readings
alerts-something-logged-within = something logged within { $minutes } min
alerts-resolved-without-action = resolved without action
alerts-them-at-night-sleep-broken = at night, resolved without action
alerts-lows-with-alert = lows with an alert
alerts-before-low-began = lows with an alert before they began
alerts-of = { $noticed } of { $lows }
alerts-notice-before-them-middle-one = median warning before a low
alerts-none-to-tell = none
alerts-sensor-reads-below = The sensor reads below { $floor }, or glucose is too low for it to measure.
alerts-sensor-reads-below-your-low = The sensor reads below your low line.
alerts-readings-fall-fast = The readings fall fast.
alerts-no-reading-comes-from-sensor = No reading comes from the sensor.
alerts-sensor-reads-above-your-high = The sensor reads above your high line.
alerts-readings-rise-fast = The readings rise fast.
alerts-rang-at = This alert rang at { $clock }.
alerts-low-repeats = A low that lasts and that nobody answers is alerted again every { $minutes } min, { $times } times at most.
alerts-you-act-on-highs-at = You act on highs at about { $acts } ({ $count } times), and are alerted at { $line }. Alerted at { $at } instead, there would be { $after } alerts a day, not { $before }. Talk it over with your care team.
alerts-high-only-once-has = Alerted to a high only once it has lasted { $minutes } min, there would be { $after } alerts of highs instead of { $before }, and { $then } needless awakenings instead of { $woken }. Lows would be alerted as before. Talk it over with your care team.
alerts-plan-kept = Alerts from now on: { $now }. Before: { $before }.
alerts-plan-day-and-night = by day { $day }, by night { $night }
alerts-plan-below = below { $low }
alerts-plan-below-and-above = below { $low } and above { $high }

## sentences/outcomes

outcomes-no-prompt-kept-in-time = No prompt is kept in this time. Each one that you are shown of the present is kept, so that you can see here what came of it; one asked of a past time is not.
outcomes-prompts-shown-those-said-same = { $prompts ->
    [one] 1 prompt was shown.
   *[other] { $prompts } prompts were shown; counting those that said the same in a row once, { $decisions }.
    }
outcomes-holds-never-went-below-within = Of { $of } { $of ->
    [one] hold
   *[other] holds
    }, { $stayed } never went below { $line } within { $after_minutes } min { $interval }.
outcomes-chance-low-within-half-hour = The chance of a low within half an hour shown beside them was { $chance } on average.
outcomes-those-did-with-lowest-reading = Those that did, with the lowest reading: { $those }.
outcomes-holds-more-carbohydrate-logged-within = In { $of } more { $of ->
    [one] hold
   *[other] holds
    }, carbohydrate was logged within { $within } all the same; { $above } were above { $high } within 2 h. What holding would have come to is not known.
outcomes-prompts-to-treat-carbohydrate = Of { $of } { $of ->
    [one] prompt
   *[other] prompts
    } to treat, carbohydrate was logged within { $within } after { $treated }; { $low } went below { $line }, and { $above } were above { $high } within 2 h.
outcomes-prompts-to-check-meter = Of { $of } { $of ->
    [one] prompt
   *[other] prompts
    } to check, a meter was used within { $within } after { $metered }, and showed below { $line } in { $low }; the sensor went below it in { $later }.
outcomes-falls-waited = In { $of } { $of ->
    [one] fall
   *[other] falls
    } with both futures shown you ate nothing: { $low } went below { $line } within the hour. The chance shown of that was { $waiting } if you wait, { $treating } if you treat.
outcomes-falls-treated = In { $of } you took carbohydrate: { $low } went below { $line } within the hour, { $above } were above { $high } within 2 h. The chance shown of the low was { $treating } if you treat, { $waiting } if you wait.
outcomes-other-choice-not-known = Where the share that came is close to the chance shown, the futures can be relied on; what the other choice would have brought in one fall is not known.
outcomes-more-not-seen-what-came = Of { $unseen } of these it is not seen what came: readings are missing, or the hour is not over.
outcomes-none-them-about-fall-can = { $prompts ->
    [one] It was not about a fall that can be followed to its end.
   *[other] None of them was about a fall that can be followed to its end.
    }
outcomes-what-done-and-not-logged = What was done and not logged is not seen here.
outcomes-95-to = (95 %: { $low } to { $high } %)
outcomes-of = { $hits } of { $of }

## sentences/bluetooth

bluetooth-field-octets-begins-here-and = a field of { $needs } bytes begins here and { $has } are left
bluetooth-octets-left-over = { $extra } bytes are left over
bluetooth-record-says-has-octets-its = the record says it has { $said } bytes; its flags make it { $needs }
bluetooth-checksum-and-should-be-ask = the checksum is { $sent } and should be { $computed }; ask for the record again
bluetooth-no-code-field = { $given } is no code of this field
bluetooth-no-such-date-or-time = no such date or time of day
bluetooth-device-does-not-know-date = the device does not know the date; set its clock
bluetooth-0x-octet = { $name } (0x{ $uuid }), byte { $octet }: { $why }
bluetooth-device-sent-no-number = the device sent no number
bluetooth-amount-outside-what-log-takes = the amount is outside what a log takes: check with a meter
bluetooth-sensors-session-stopped = the sensor's session was stopped
bluetooth-device-does-not-take-kind = the device does not take this kind of sensor or strip
bluetooth-device-says-does-not-work = the device says it does not work as it should: go by a meter
bluetooth-too-warm-for-valid-result = it was too warm for a valid result
bluetooth-too-cold-for-valid-result = it was too cold for a valid result
bluetooth-too-little-blood-or-strip = too little blood, or the strip was put in wrongly or pulled too soon: measure again
bluetooth-devices-clock-not-set-or = the device's clock is not set or may be wrong: set it
bluetooth-time-lies-ahead-phones-clock = the time lies ahead of this phone's clock: compare both
bluetooth-time-lies-outside-years-2000 = the time lies outside the years 2000 to 2199: set the device's clock
bluetooth-control-solution-measured-no-blood = a control solution was measured, no blood
bluetooth-meter-does-not-say-blood = the meter does not say that blood was measured
bluetooth-record-holds-no-amount = the record holds no amount
bluetooth-what-came-with-belongs-to = what came with it belongs to another measurement
bluetooth-amount-carbohydrate-nobody-eats = an amount of carbohydrate that nobody eats
bluetooth-insulin-in-kilograms-or-litres = insulin in kilograms or litres: note the units by hand
bluetooth-movement-without-its-time-note = movement without its time: note it by hand
bluetooth-hba1c-meal-marks-and-remarks = HbA1c, meal marks and remarks on health have no place in the log
bluetooth-not-in-log-2 = Not in the log: { $said }.
bluetooth-not-in-log = { $clock }, not in the log: { $said }.
bluetooth-devices-battery-low = The device's battery is low.
bluetooth-sensor-asks-to-be-calibrated = The sensor asks to be calibrated.
bluetooth-device-has-something-to-say = The device has something to say: look at it.
bluetooth-clock-showed-time-twice-night = The clock showed this time twice that night; the first was taken.
bluetooth-clocks-had-gone-forward-over = The clocks had gone forward over this time; the meter's clock was not.
bluetooth-too-low-for-device-to = Too low for the device to measure: check with a meter now; if in doubt and no meter is at hand, treat.
bluetooth-too-high-for-device-to = Too high for the device to measure: check with a meter.
bluetooth-not-from-finger-when-glucose = Not from a finger: when glucose moves fast, such blood lags behind.

## sentences/fhir

fhir-no-json-or-file-ends = this is no JSON, or the file ends too soon; FHIR as XML is not read
fhir-json-and-no-fhir-bundle = this is JSON and no FHIR Bundle
fhir-about-people-glucose-several-must = it is about { $count } people; glucose of several must not end up in one log, so say which one to take
fhir-person-asked-for-not-in = the person asked for is not in it
fhir-one-resource-in-larger-than = one resource in it is larger than { $most_megabytes } MB, which none that is read here is
fhir-not-final = it is not final
fhir-withdrawn-at-source = it was withdrawn at its source, and your log holds it; take it back there if it never was
fhir-amended-at-source = it was changed at its source, and your log holds what it said before; both stay, the lower one is used, so take back the one that is wrong
fhir-there-no-time = there is no time
fhir-time-not-given-to-minute = the time is not given to the minute with its offset from UTC
fhir-time-lies-outside-years-2000 = the time lies outside the years 2000 to 2199
fhir-time-lies-ahead-devices-clock = the time lies ahead of this device's clock
fhir-there-no-number = there is no number
fhir-says-less-than-what-could = it says less than what could be read: a low without its number
fhir-says-more-than-what-could = it says more than what could be read: a high without its number
fhir-value-outside-what-log-takes = the value is outside what a log takes
fhir-unit-not-known-here = the unit is not known here
fhir-code-asks-for-another-unit = the code asks for another unit than the value has; which is wrong cannot be known
fhir-insulin-neither-rapid-acting-nor = the insulin is neither rapid-acting nor long-acting alone
fhir-insulin-without-code = it may be insulin, and no ATC code says which; note it by hand if it was taken
fhir-laboratory = a laboratory's value, taken as a meter check
fhir-part-missing-or-newer-version = a part is missing or of a newer version
fhir-modifier-not-known-here = it carries a modifier that is not known here and may turn around what it says
fhir-name-stands-twice = a name stands in it twice; which of the two counts cannot be known
fhir-log-has-entry-with-another = the log has this entry with another content, which was kept
fhir-would-correct-entry-log-correct = it would correct an entry of this log; correct it by hand, or merge the logs
fhir-contradicts-itself = it contradicts itself
fhir-entry-left-out = entry { $place }, { $element }: { $why }; left out
fhir-entry-taken = entry { $place }, { $element }: { $why }
fhir-and = { $entries } and { $figures }.
fhir-not-in = Not in it: { $left_out }.
fhir-bundle-carries-what-holds-what = A bundle carries what holds. What was corrected or taken back, your settings and what was learnt stay in the log.
fhir-files-imported = that files were imported ({ $count })
fhir-entries-taken-back = that entries were taken back ({ $count })
fhir-reviews-figures-too-few-readings = the review's figures: too few readings, or ranges other than 70 to 180 mg/dL

## sentences/health

health-unclear = { $count ->
    [one] 1 value does not say whether a sensor or a meter measured it: kept as a sensor's reading.
   *[other] { $count } values do not say whether a sensor or a meter measured them: kept as a sensor's readings.
    }
health-left-out = { $count ->
    [one] 1 value of the health records is not in the log: its amount or time cannot be, or it was measured in neither blood nor tissue. Check with a meter.
   *[other] { $count } values of the health records are not in the log: their amount or time cannot be, or they were measured in neither blood nor tissue. Check with a meter.
    }

## sentences/merge

merge-nothing-would-change-everything-in = Nothing would change: everything in it is in your log already.
merge-in-your-log-already-and-2 = In your log already, and not doubled: { $known }.
merge-other-than-same-sensor-said = Other than the same sensor said for the same time: { $differ }. Both are kept; the lower one counts.
merge-new-to = New: { $parts }, { $first } to { $last }.
merge-corrects-and-takes-back = It corrects { $corrections } and takes back { $retractions }.
merge-what-holds-in-your-log = Of what holds in your log now, { $both } would no longer hold; they stay readable.
merge-and-more = and { $more } more
merge-two-logs-share-too-little = The two logs share too little time to show by their readings whether both are yours.
merge-at-shared-times-readings-differ = At { $differing } of { $compared } shared times the readings differ by more than { $bound } (above { $level }: { $percent }).
merge-and = { $readings } and { $others }
merge-looks-like-somebody-elses-log = This looks like somebody else's log: at { $differing } of { $compared } shared times its readings do not fit yours. Prompts made from two people's readings are dangerous.
merge-recorded-later-than-devices-clock = Recorded later than this device's clock says it is: { $entries }. Compare the clocks of both devices; where neither is wrong, somebody changed the file.
merge-in-your-log-already-and = In your log already, and saying something else in this one: { $entries }. Ebbstead never changes an entry, so somebody changed the file.
merge-would-take-back-much-your = It would take back much of your log: { $readings }. That is right only if you took them back yourself on the other device, a file brought in by mistake, say.
merge-brought-back-with-your-settings = Brought back: { $all }, with your settings and what was learnt.
merge-taken-in = Added: { $new }.
merge-settings-and-what-learnt-stay = Settings and what was learnt stay as they are here; learn again to learn from all of it.
merge-saved = Saved: { $both }.
merge-your-settings-among = Your settings are among it.
merge-settings-found-look-whether-they = Settings were found; look whether they are the ones you had.
merge-no-settings-found-set-your = No settings were found: set your unit, lines and factors again.
merge-not-readable-and-lost-perhaps = Not readable, and lost: { $rows }, perhaps others beside them.
merge-perhaps-under-wrong-name-taking = Perhaps under a wrong name: { $sources }. Taking in another device's log may double readings of theirs.

## sentences/review

review-hours-readings = { $need ->
    [one] hour of readings
   *[other] hours of readings
    }
review-days-worth-readings = { $need ->
    [one] day's worth of readings
   *[other] days' worth of readings
    }
review-days-covered-by-70 = { $need ->
    [one] day covered by 70 %
   *[other] days covered by 70 %
    }
review-hours-with-readings-day-before = { $need ->
    [one] hour with readings a day before
   *[other] hours with readings a day before
    }
review-days-with-readings-at-hour = { $need ->
    [one] day with readings at this hour
   *[other] days with readings at this hour
    }
review-meter-checks-beside-readings = { $need ->
    [one] meter check beside readings
   *[other] meter checks beside readings
    }
review-not-enough-data-have-need = not enough data: have { $have }, need { $need } { $of }
review-day = { $length } a day
review-in-range-to = In range, { $low } to { $high }
review-below-2 = Below { $low }
review-below = of it below { $floor }
review-above-2 = Above { $high }
review-above = of it above { $very_high }
review-consensus-aim-over = consensus aim over { $percent } %
review-consensus-aim-under = consensus aim under { $percent } %
review-reached = reached
review-within-your-own-lines-to = Within your own lines, { $low } to { $high }
review-below-above = { $below } % below, { $above } % above
review-small = small
review-moderate = moderate
review-high = high
review-mean = Mean
review-glucose-management-indicator-gmi = Glucose management indicator (GMI)
review-mmol-mol-laboratorys-a1c-can = { $gmi_mmol_mol } mmol/mol; a laboratory's A1C can differ
review-mmol-mol-no-a1c-in-pregnancy = { $gmi_mmol_mol } mmol/mol; in pregnancy it is no accurate stand-in for a laboratory's A1C
review-standard-deviation = Standard deviation
review-coefficient-variation = Coefficient of variation
review-stable-up-to-consensus = stable up to { $stable_cv_percent } % (consensus)
review-low-blood-glucose-index-lbgi = Low blood glucose index (LBGI)
review-high-blood-glucose-index-hbgi = High blood glucose index (HBGI)
review-bands-made-for-meter-checks = bands made for meter checks
review-glycemia-risk-index-gri = Glycemia risk index (GRI)
review-0-best-100-worst-zones = 0 best, 100 worst; zones A to E
review-swings-within-day-mage = Swings within a day (MAGE)
review-differences-from-day-to-day = Differences from day to day (MODD)
review-j-index = J-index
review-to-readings-on-dates-cover = { $from } to { $until }: { $readings } { $readings ->
    [one] reading
   *[other] readings
    } on { $dates } { $dates ->
    [one] date
   *[other] dates
    } { $readings ->
    [one] covers
   *[other] cover
    } { $share } % of { $whole ->
    [1] the day
   *[other] { $days } days
    }. The longest gap is { $gap }.
review-gap-hours = { $hours } h
review-h-in-which-sensor-pressed = { $hours } h in which the sensor was pressed are left out.
review-too-low-or-too-high = { $readings } too low or too high to measure: counted below or above the range; mean, standard deviation and GMI are figured with the limit.
review-two-sensors-worn-at-once = Two sensors were worn at once: { $count } { $count ->
    [one] reading of { $name } is
   *[other] readings of { $name } are
    } not used here.
review-your-clock-put-on-or = Your clock was put on or back { $changes } (travel or summer time); hours are those it showed.
review-consensus-judges-by-14-days = The consensus judges by 14 days with 70 % covered; this is less, so take the figures as a glimpse.
review-you-in-range-time-below = You were in range { $in_range } % of the time, below it { $below } %, above it { $above } %.
review-much-like-time-before = That is much like the time before.
review-points-more-in-range-than = That is { $size } points more in range than in the time before.
review-points-less-in-range-than = That is { $size } points less in range than in the time before.
review-above-you-longest-lasted-h = Above { $line } you were { $count }; the longest lasted { $hours } h.
review-readings-cover-time = Readings cover { $share } % of the time.
review-no-low-lasted-quarter-hour = No low lasted a quarter of an hour.
review-readings-too-far-apart = most readings have no other within 20 minutes
review-no-swing = no swing larger than the day's standard deviation
review-lows-not-known = Lows that lasted cannot be counted: { $why }.
review-you-low-them-at-night = You were low { $count }, { $at_night } of them at night; { $serious } stayed below { $floor } for a quarter of an hour. The longest lasted { $length } ({ $when }).
review-once = once
review-twice = twice
review-times = { $count } times
review-to = to { $furthest }
review-end-not-seen = , end not seen
review-min-before = { $what } { $minutes } min before
review-rapid-insulin = rapid insulin
review-meal = a meal
review-rescue-carbohydrate = rescue carbohydrate
review-movement = movement
review-there-too-little-yet-to = There is too little yet to look for patterns.
review-pattern-none = No hour, meal, movement, weekday or sensor day stands out by more than chance ({ $looks } looks, counted as one question).
review-pattern-how-looked = { $looks } looks count as one question (permutation test): of records without any pattern, at most 1 in 20 shows one here. Hours are named where most was seen. A pattern is a reason to look at the days, no proof.
review-pattern-sure = Without a pattern it would be about { $expected }; chance alone brings anything so clear in { $chance } of records. Days to look at: { $dates }.
review-pattern-low-nights = On { $hits } of { $of } nights you were low between { $from } and { $until }.
review-pattern-low-days = On { $hits } of { $of } days you were low between { $from } and { $until }.
review-pattern-high-nights = On { $hits } of { $of } nights you were high between { $from } and { $until }.
review-pattern-high-days = On { $hits } of { $of } days you were high between { $from } and { $until }.
review-pattern-low-worst = On { $serious } of them it was below { $floor }; the longest lasted { $minutes } min.
review-pattern-low-movement = On { $hits } of { $of } days with movement a low began during it or within 12 h.
review-pattern-low-first-day = A low began on { $hits } of { $of } first days of a sensor.
review-pattern-high-first-day = Over a quarter of the time was high on { $hits } of { $of } first days of a sensor.
review-pattern-low-last-day = A low began on { $hits } of { $of } last days of a sensor.
review-pattern-high-last-day = Over a quarter of the time was high on { $hits } of { $of } last days of a sensor.
review-pattern-low-weekends = A low began on { $hits } of { $of } weekend days.
review-pattern-high-weekends = Over a quarter of the time was high on { $hits } of { $of } weekend days.
review-pattern-low-workdays = A low began on { $hits } of { $of } days from Monday to Friday.
review-pattern-high-workdays = Over a quarter of the time was high on { $hits } of { $of } days from Monday to Friday.
review-pattern-low-weekday = A low began on { $hits } of { $of } { $weekdays }.
review-pattern-high-weekday = Over a quarter of the time was high on { $hits } of { $of } { $weekdays }.
review-pattern-high-meals = After { $hits } of { $of } { $meals } a high began within 3 h.
review-pattern-low-meals = After { $hits } of { $of } { $meals } a low began within 4 h.
review-pattern-rebound = After { $hits } of { $of } lows that were treated a high began within 2 h.
review-pattern-ask-night = Ask your care team what may lie behind it: the insulin that acts in these hours, late meals, or movement or alcohol the day before.
review-pattern-ask-lows = Ask your care team what may lie behind it: the insulin that acts in these hours, the meal before, or movement.
review-pattern-ask-highs = Ask your care team what may lie behind it: what is eaten before, or the insulin that acts in these hours.
review-pattern-ask-movement = Ask your care team how to prepare for movement and for the night after it.
review-pattern-ask-sensor = The sensor itself may be off then: check with the meter on such days, and show this to your care team.
review-pattern-ask-weekday = Look for what differs on these days, and ask your care team how to plan for it.
review-pattern-ask-meals = Ask your care team about these meals: what is eaten, how it is counted, and when insulin is taken for it.
review-pattern-ask-rebound = Ask your care team whether the amount of carbohydrate you take against a low fits.
review-pattern-mondays = Mondays
review-pattern-tuesdays = Tuesdays
review-pattern-wednesdays = Wednesdays
review-pattern-thursdays = Thursdays
review-pattern-fridays = Fridays
review-pattern-saturdays = Saturdays
review-pattern-sundays = Sundays
review-pattern-morning-meals = morning meals
review-pattern-midday-meals = midday meals
review-pattern-evening-meals = evening meals
review-pattern-night-meals = meals at night

## sentences/sealed

sealed-sealed-and-read-back-to = Sealed and read back: { $both }, { $first } to { $last }; { $size } MB. Only the passphrase opens it, and nobody can recover a forgotten one.

## sentences/sensor

sensor-warming-up = warming up
sensor-in-its-first-day-unreliable = in its first day: unreliable, check with a meter more often
sensor-worn = in use
sensor-days-left = { $days } { $days ->
    [one] day
   *[other] days
    } left of { $rated }
sensor-worn-past-its-rated-length = worn past its rated length: unreliable, check with a meter more often
sensor-ended = ended
sensor-lot = lot
sensor-days = { $from }{ $site }: { $days } days, { $stage }{ $faults }
sensor-in-use = in use
sensor-let-rest = , let it rest
sensor-rested-days = rested { $days } { $days ->
    [one] day
   *[other] days
    }{ $short }
sensor-sensors = { $uses } { $uses ->
    [one] sensor
   *[other] sensors
    }
sensor-failed = { $name }: { $rest }; { $sensors }, { $failures } failed
sensor-longest-rested = The longest rested is { $name }.
sensor-none-has-rested-days-site = None has rested { $rest_days } days; a site not used so far would be gentler on the skin.
sensor-sites-outside-sensors-labelling-for = Sites outside the sensor's labelling are for you and your care team to decide.
sensor-worn-beside = { $name }, worn beside it: { $agreement }
sensor-newest-alone = the newest sensor alone: { $agreement }
sensor-95-to-2 = { $value } { $unit } (95 %: { $low } to { $high })
sensor-checks-beside-readings-differences-sensor = { $pairs } checks beside readings; differences are sensor minus meter
sensor-on-average = on average
sensor-with-sensors-lag-allowed-for = with the sensor's lag allowed for
sensor-within-or = within { $mg_dl } or { $limit } %: { $share }
sensor-error-grid = error grid of { $name }
sensor-meter-low = meter low
sensor-meter-in-range = meter in range
sensor-meter-high = meter high
sensor-looking-back-with-sensors-delay = looking back, with the sensor's delay taken out of its readings ({ $pairs } checks): { $value } { $unit } (95 %: { $low } to { $high }); { $mard }
sensor-mean-absolute-relative-difference-95 = mean absolute relative difference { $value } % (95 %: { $low } to { $high })
sensor-95-to = { $hits } of { $of } (95 %: { $low } to { $high } %)
sensor-above = { $size } above
sensor-below = { $size } below
sensor-not-to-be-judged-steady = Not to be judged: { $have } steady { $have ->
    [one] check
   *[other] checks
    } of the last { $hours } hours, and { $need } are needed, { $minutes } minutes apart. One check is never enough.
sensor-no-need-steady-checks-do = No need: { $pairs } steady checks do not show the sensor consistently off by more than { $mg_dl } or { $limit } %.
sensor-sensor-reads-meter-but-now = The sensor reads { $off } the meter, but now is no moment to calibrate: { $why }.
sensor-sensor-reads-meter-in-steady = The sensor reads { $off } the meter in { $pairs } steady checks, and you are steady now. If your sensor takes calibrations, follow its instructions, with clean dry hands.
sensor-sensor-in-its-first-day = the sensor is in its first day
sensor-sensor-past-its-rated-length = the sensor is past its rated length
sensor-fault-noted-sensor-which-calibrating = a fault of this sensor is logged, and calibrating cannot correct it
sensor-sensor-just-pressed = the sensor was just pressed
sensor-glucose-moving = glucose is moving
sensor-there-too-few-readings-just = there are too few readings just now
sensor-you-ate-in-last-hours = you ate in the last { $hours } hours
sensor-you-took-rapid-insulin-in = you took rapid insulin in the last { $hours } hours
sensor-no-readings-for-min = { $at }  no readings for { $length }
sensor-no-readings-since = { $at }  no reading since, for { $span }
sensor-from-to-within-min = { $at }  from { $from } to { $to } within { $minutes } min
sensor-pressed-for-min = { $at }  pressed for { $length }

## sentences/table

table-to = { $both }, { $first } to { $last }.
table-left-out-import-taken-back = Not in it is what came only with files that were taken back: { $entries }.
table-no-time-with-its-offset = no time with its offset from UTC can be read
table-kind-unknown-or-something-kind = the kind is unknown, or something of that kind is missing
table-would-change-entry-put-right = it would change an entry; put that right in the log instead
table-such-entry-cannot-be = such an entry cannot be
table-not-readable-as-text = it is not readable as text
table-line-left-out = line { $number }: { $why }; left out

## sentences

log-anybody-who-has-file-can = Anybody who has this file can read it. Give it only to those who may know.

## pages/alerts

page-alerts-your-lines = your lines
page-alerts-as-tried = as tried
page-alerts-alerts-replayed = Alerts, replayed
page-alerts-proposals = Proposals
page-alerts-cannot-be-replayed = What alerts these readings would have given cannot be said: { $why }.
page-alerts-below-alert-in-any-case = Below { $floor } there is always an alert, and it repeats. A low that still lasts a quarter of an hour after you answered is alerted again. What was done but not logged is not counted.

## pages/outcomes

page-outcomes-what-came-prompts-days = Outcomes of the prompts of { $days } { $days ->
    [one] day
   *[other] days
    }

## pages/learn

page-learn-no-forecast-could-be-compared = No forecast could be compared with what came: that takes a few hours of readings without a gap.
page-learn-readings-stay-as-they-but = The readings stay as they are, but nothing is learnt from these spells. If one was a real low, take its mark back in the log. It will not come again.
page-learn-learnt = Learnt { $when }
page-learn-sensor-probably-pressed-and-log = The sensor was probably pressed, and the log says so from now on
page-learn-every-prompt-uses-from-now = Every prompt uses this from now on. Learn again every week or so, and after a new kind of sensor. Guards, lines and factors are never learnt: those are yours and your care team's.

## pages/sensor

page-sensor-no-insertion-in-log-yet = No insertion is in the log yet: note when you put a sensor in, and where.
page-sensor-sensors = Sensors
page-sensor-sites-longest-rested-first = Sites, the longest rested first
page-sensor-sensor-beside-meter = Sensor beside meter
page-sensor-calibration = Calibration
page-sensor-seen-on-newest-sensor = Seen on the newest sensor

## pages/supplies

page-supplies-supplies = Supplies
page-supplies-nothing-noted-supplies-yet-count = Nothing is noted of supplies yet. Count once what is there.
page-supplies-prices-you-noted = Prices you noted
page-supplies-facts-for-statement-need = Facts for a letter on why you need the sensor
page-supplies-letter-yours-to-write-your = The letter is yours to write; your care team can say what your insurer asks for.

## pages/report

page-report-glucose-review = Glucose review
page-report-in-short = In short
page-report-average-day-shared-out = An average day, shared out
page-report-hour-by-hour = Hour by hour
page-report-level-spread-and-risk = Level, spread and risk
page-report-day-by-day = Day by day
page-report-last-days = { $days ->
    [one] The last day with readings.
   *[other] The last { $days } days with readings.
    }
page-report-dash-where-too-little = A dash: readings cover less than { $share } % of the day.
page-report-covered = covered
page-report-lows-quarter-hour-and-more = Lows of a quarter of an hour and more
page-report-patterns = Patterns
page-report-no-medical-device-and-names = This is no medical device and names no dose. The figures come from a sensor, which reads the fluid under the skin and can be wrong. Aims are the consensus' (Battelino et al. 2019); those you have with your care team go before them. Change treatment only with your care team.
page-report-written = Written { $written }.
page-report-none = None.
page-report-and-earlier-ones = and { $more } earlier { $more ->
    [one] one
   *[other] ones
    }
page-report-from-left-filled-very-low = From the left: filled very low, dense strokes low, tinted in range, wide strokes high, crossed very high.
page-report-no-hour-has-readings-on = No hour has readings on five days yet.
page-report-in-by-your-own-clock = In { $unit }, by your own clock. Each bar holds the middle eight readings of ten; its thick part is the middle half, the notch the median. Dashed: very low, and your own low and high line.
page-report-logged-by-hour = Below the bars: carbohydrate and rapid insulin as logged by hour, on an average day of the period; the figure beside each row is its highest bar. What was not logged is not in it.
page-report-carbohydrate-a-day = Carbohydrate, g a day
page-report-rapid-insulin-a-day = Rapid insulin, units a day
page-report-grams = g
page-report-units = units
page-report-hour = Hour
page-report-days = Days
page-report-no-readings = No readings.
page-report-each-dates-lows-and-highs = Each date's lows and highs over the day; the shares are in the table below
page-report-line-where-there-readings-filled = A line where there are readings; filled blocks hang below it while under your low line, strokes stand on it while over your high line; on the right the share between them.
page-report-same-in-numbers = The same in numbers
page-report-date = Date
page-report-between-lines = Between the lines
page-report-below = Below
page-report-above = Above

## pages/review

page-review-review = Review
page-review-aims-consensus-battelino-et-al = The aims are the consensus' (Battelino et al. 2019); those you have with your care team go before them, and treatment is changed only with them.
page-review-hour-by-hour-in = Hour by hour, in { $unit }
page-review-in-short = In short
page-review-time-in-range = Time in range
page-review-level-spread-and-risk = Level, spread and risk
page-review-lows-quarter-hour-and-more = Lows of a quarter of an hour and more
page-review-patterns = Patterns
page-review-1-in-10-below = 1 in 10 below
page-review-1-in-4-below = 1 in 4 below
page-review-half-below = half below
page-review-3-in-4-below = 3 in 4 below
page-review-9-in-10-below = 9 in 10 below

## chart

chart-glucose-by-hour-your-clock = Glucose by hour of your clock, { $hours } of 24 hours known. Its median is lowest at { $low_at } with { $low } and highest at { $high_at } with { $high }.
chart-each-post-holds-eight-readings = Each bar holds the middle eight readings of ten; its thick part is the middle half, the notch the median.

## pages/sheet

page-sheet-not-noted = not noted
page-sheet-record-one-glucose-sensor = Record of one glucose sensor
page-sheet-put-in = Put in
page-sheet-taken-off = Taken off
page-sheet-followed-by-next-sensor = Followed by the next sensor
page-sheet-still-worn = Still worn
page-sheet-worn-for = Worn for
page-sheet-site = Site
page-sheet-lot = Lot
page-sheet-rated-for = Rated for
page-sheet-readings = Readings in the log
page-sheet-readings-cover = { $readings }, { $share } % of the time since the first
page-sheet-no-readings = none
page-sheet-days = days
page-sheet-so-many-days = { $days } { $count ->
    [one] day
   *[other] days
    }
page-sheet-what-seen = What was seen
page-sheet-nothing = nothing
page-sheet-meter-beside-sensor = Meter beside sensor
page-sheet-movement-unknown = movement unknown
page-sheet-meter = meter
page-sheet-sensor = sensor
page-sheet-earlier-ones = { $count } earlier { $count ->
    [one] one
   *[other] ones
    }
page-sheet-mean-absolute-relative-difference = Mean absolute relative difference
page-sheet-to = to
page-sheet-times-wearers-own-clock-sensor = Times are the wearer's own clock. A sensor reads the fluid under the skin, minutes behind blood; differences are given as read.
page-sheet-written = Written

## words

words-not-table-ebbstead-wrote = not a table that Ebbstead wrote
refusal-is-a-log = this is a log, not a file to import: add it with merge, or on the page “{ $page }”
refusal-is-sealed = this is a sealed log: open it with unseal and its passphrase, or on the page “{ $page }”

## terminal/commands/add

terminal-add-noted = noted
terminal-add-corrected = corrected
terminal-add-prompt-is-not-corrected = this is a prompt that was shown, and it stays; add what you want to note, or take the prompt back with undo and its mark
terminal-add-sleep-has-its-times = sleep has its times already, from and until; leave --at and --ago away
terminal-add-ago = --ago must be { $low } to { $high } minutes, not { $given }; for what was longer ago, --at says when
terminal-add-and-its-correction = and its correction
terminal-add-there-nothing-to-undo = there is nothing to undo
terminal-add-taken-back = taken back
terminal-add-no-entry-marked-ebbstead-log = no entry is marked { $wanted }; `ebbstead log` lists the marks
terminal-add-entries-marked-give-whole-identity = { $many } entries are marked { $wanted }; give the whole identity of the one you mean
terminal-add-no-date-write-yyyy-mm = { $text } is no date; write YYYY-MM-DD
terminal-add-price-takes-two = --price takes two

## terminal/commands/check

terminal-check-shown-not-kept-for-ebbstead = that this was shown was not kept for `ebbstead outcomes`: { $error }
terminal-check-what-learnt-cannot-be-read = what was learnt cannot be read, so the usual values are used: { $error }
terminal-check-and-then = And then
terminal-check-kept-in-log = kept in the log: { $text }
terminal-check-i-checked-with-meter = I checked with a meter
terminal-check-ebbstead-wake-meter-amount = ebbstead wake --meter AMOUNT
terminal-check-i-measured-ketones = I measured ketones
terminal-check-ebbstead-add-ketones-amount = ebbstead add ketones AMOUNT, and then ebbstead wake
terminal-check-i-treated = I treated a low
terminal-check-ebbstead-add-carbs-grams-rescue = ebbstead add carbs GRAMS --rescue
terminal-check-i-rolled-off-sensor = I rolled off the sensor
terminal-check-ebbstead-add-sensor-rolled-off = ebbstead add sensor rolled-off, and in 5 minutes ebbstead wake

## terminal/commands/import

import-table-ebbstead-wrote-could-be = A table that Ebbstead wrote: { $taken } could be taken. Nothing was written.
import-in-log-already = { $new }; in the log already: { $known }.
import-not-one-row-could-be = { $file }: not one row could be taken
import-could-be-taken-to-nothing = { $taken } could be taken, { $first } to { $last }. Nothing was written.
import-to-in-log-already = { $new }, { $first } to { $last }; in the log already: { $known }.
import-nobody-named = nobody named
import-they-came-from-log = They came from this log.
import-they-about-if-not-you-2 = They are about: { $about }. If that is not you, take them back with undo.
import-they-about-if-not-you = They are about: { $about }. If that is not you, do not bring them in.
import-other-kinds = Of other kinds
import-contradicts = Another amount for the same time than one in the log: { $readings }. Both stay, the lower one is used.
import-moments-apart = Readings that repeat another of the same sensor moments earlier: { $readings }. The same readings came twice, with times that differ by seconds. All stay in the log, figures count each once. If they came with this file, you can take it back with undo.
import-and-more = and { $more } more
import-not-one-entry-could-be = { $file }: not one entry could be taken
import-mostly-every-minutes = , mostly every { $minutes } minutes
import-mostly-every-minute = , mostly every minute
import-time-from-readings-from-in = Time from { $time_column }, readings from { $glucose_column } in { $unit }{ $spacing }.
import-not-taken-whatever-they-hold = Not taken, whatever they hold: { $unused }.
import-too-low-or-too-high = Too low or too high to measure, taken as such
import-left-out = Left out
import-same-as-earlier-one = The same as an earlier one
import-without-reading = Without a reading
terminal-import-and-more-findings-path-writes = { $more }; --findings PATH writes all of them to a file

## terminal/commands/learn

terminal-learn-nothing-has-been-learnt-from = Nothing has been learnt from this log yet. To begin: ebbstead learn
terminal-learn-going-through-last-days-readings = going through the last { $days } days of readings; this takes a few seconds
terminal-learn-learnt = Learnt { $when }
terminal-learn-no-forecast-could-be-compared = No forecast could be compared with what came: that takes a few hours of readings without a gap.
terminal-learn-sensor-probably-pressed-and-log = The sensor was probably pressed, and the log says so from now on
terminal-learn-readings-stay-as-they-but = The readings stay as they are, but nothing is learnt from these spells. If one was a real low, take the mark back with: ebbstead undo { $mark }. It will not come again.
terminal-learn-ebbstead-check-and-wake-use = ebbstead check and wake use this from now on. Learn again every week or so, and after a new kind of sensor. Guards, lines and factors are never learnt: those are yours and your care team's.

## terminal/commands/list

terminal-list-no-damage-sensor-readings-other = { $display }: no damage. { $readings } sensor { $readings ->
    [one] reading
   *[other] readings
    }, { $others } other { $others ->
    [one] entry
   *[other] entries
    }.
terminal-list-sensor-readings-to = { $amounts } sensor { $amounts ->
    [one] reading
   *[other] readings
    }, { $low } to { $high }
terminal-list-corrects = , corrects [{ $tail }]
terminal-list-no-longer-holds = (no longer holds)
terminal-list-nothing-in-log-from-to = Nothing is in the log from { $from } to { $until }.
terminal-list-nothing-brought-in-from-files = Nothing was brought in from files.
terminal-list-taken-back = (taken back)

## terminal/commands/smooth

terminal-smooth-not-before = { $from } is not before { $until }
terminal-smooth-log-has-no-reading-and = The log has no reading and no meter check from { $from } to { $until }.
terminal-smooth-blood-glucose-as-probably-to = Blood glucose as it probably was, { $from } to { $until }
terminal-smooth-worked-out-from-what-came = Worked out from what came before and after, meter checks included. For looking back only: for what to do now, ask ebbstead check.
terminal-smooth-seen-what-sensor-read-or = Seen: what the sensor read, or M and what a meter showed, in { $unit }. Blood: the likeliest, and where it was nine times in ten.
terminal-smooth-drawn-blood-nine-in-ten = Drawn: { $blood } blood, { $band } nine in ten, { $reading } sensor, { $meter } meter.
terminal-smooth-readings-in-brackets-left-out = Readings in brackets were left out: the sensor was pressed.
terminal-smooth-time = time
terminal-smooth-seen = seen
terminal-smooth-blood-probably = blood, probably

## terminal/commands/recover

terminal-recover-damaged-log-only-read-and = The log was only read and is kept: { $old }. Look through the new one with --log { $new }. To go on with it, move the old file, and those beside it that begin with its name, somewhere else; then put the new one in its place. Settings and everything else are worth a look before you rely on it.

## terminal/commands/merge

terminal-merge-against = Against it
terminal-merge-nothing-taken-in-if-you = nothing was merged; if you know why and want it all the same, add --force
terminal-merge-nothing-written-add-apply = Nothing was written. To merge it, add --apply{ $force }.

## terminal/commands/reliability

terminal-reliability-chances-falling-below-within-30 = Chances of falling below { $line } within 30 minutes
terminal-reliability-each-chance-stated-before-its = Each chance was stated before its outcome was known, while readings above the line were falling, up to { $until }. Five minutes apart they see nearly the same half-hour, so six count as one. You may have acted on what you saw: a low that you headed off counts as one that did not come.
terminal-reliability-what-said-what-came-where = { $said } what was said, { $came } what came, { $between } where it would settle nine times in ten. A dash: too few to say.
terminal-reliability-said = said
terminal-reliability-times = times
terminal-reliability-came = came

## terminal/commands/replay

terminal-replay-rows-run-backwards = The rows run backwards in time, the newest first: what is shown of them means nothing. Turn the file round, the oldest row first.
terminal-replay-line-column-cannot-be-used = line { $line }, column { $column } ({ $name }): { $given } cannot be used; the rest of the row counts
terminal-replay-time = time
terminal-replay-reading-movement = reading, movement
terminal-replay-low-in-30-min = low in 30 min
terminal-replay-prompt-without-meter = prompt (without a meter)

## terminal/commands/review

terminal-review-there-another-file-name-left = { $path }: there is another file of that name; it was left as it is. Give another name
terminal-review-written-to = written to { $path }

## terminal/commands/seal

terminal-seal-there-no-terminal-to-ask = there is no terminal to ask for the passphrase at; give --passphrase-from PATH
terminal-seal-passphrase-nothing-shown = Passphrase (nothing is shown):
terminal-seal-once-more = Once more:
terminal-seal-two-not-same-nothing-sealed = the two are not the same; nothing was sealed
terminal-seal-passphrase-no-text = the passphrase is no text
terminal-seal-is-the-passphrase-file = { $path } holds the passphrase, and sealing would replace it; nothing was sealed. Give another file

## terminal/commands/sensor

terminal-sensor-no-such-sensor-in-log = no such sensor is in the log; note one with: ebbstead add sensor inserted --site SITE
terminal-sensor-to-note-one-ebbstead-add = To note one: ebbstead add sensor inserted --site "left arm"
terminal-sensor-to-be-reminded-when-sensor = To be reminded when a sensor is overdue, say how long yours are rated for: ebbstead settings sensor-days 10

## terminal/commands/settings

terminal-settings-none = none
terminal-alerts-never = never
terminal-settings-log-has-no-readings-sensor = the log has no readings of a sensor named { $name } (those it has: { $known })
terminal-settings-not-set = not set
terminal-settings-sparing-fewer-later-prompts-to = sparing: fewer, later prompts to treat
terminal-settings-balanced = balanced
terminal-settings-early-earlier-more-needless-prompts = early: earlier, more needless prompts to treat
terminal-settings-unit = a unit
terminal-settings-gram = a gram
terminal-settings-one-read-first = the one read first
terminal-settings-change-one-with-ebbstead-settings = Change one with: ebbstead settings NAME VALUE. Lines and factors are for you and your care team to set.

## terminal/commands/supplies

terminal-supplies-nothing-noted-supplies-count-once = Nothing is noted of supplies. Count once what is there: ebbstead add supply counted sensors 3
terminal-supplies-to-be-reminded-when-to = To be reminded when to order, say how long delivery takes: ebbstead settings lead-days 7

## terminal/demo

demo-demo-with-everything-in-invented = A demo, with everything in it invented
demo-nobody-lived-evening-and-night = Nobody lived this evening and night: a small simulation of a body and a sensor made the readings. What is said to them is what Ebbstead would say to yours. It is no medical device and names no dose; your care team's plan goes before it.
demo-demos-log-look-around-in = The demo's log is { $display }: look around in it with --log. Your own begins with
demo-data-folder-cannot-be-written = the data folder cannot be written; the demo is kept in memory only
demo-log-holds-something-else = { $display } holds a log of its own, and the demo’s invented readings have no place in it. Leave --log away to see the demo, name a file that is not there yet, or name a command for this log, such as check
demo-scene-saturday-evening-two = Saturday evening, two hours after dinner and its insulin. The readings fall.
demo-scene-later-after-walk = Later, after a walk.
demo-scene-quarter-hour-after = A quarter of an hour after that, with rescue carbohydrate taken.
demo-scene-night-alert-has = Night. An alert has woken the wearer, who lies on the arm with the sensor.
demo-scene-five-minutes-later = Five minutes later, with a meter check.
demo-scene-sunday-morning-three = Sunday morning, three quarters of an hour after breakfast and its insulin. The readings rise.

## terminal/context

terminal-careful-devices-clock-behind-log = careful: this device's clock ({ $now }) is behind the log, last written to { $last }
terminal-no-number = { $text } is no number
terminal-cannot-be-if-add = { $text } { $unit } cannot be; if it is { $other }, add { $option }
terminal-clocks-showed-twice = { $text } was on the clocks twice; taken as { $time }. For the other one, write the time with its offset.
terminal-clocks-went-over = The clocks went forward over { $text }; taken as { $time }. If that is wrong, write the time with its offset.

## terminal/failure

terminal-failure-cannot-write-result = cannot write the result: { $error }
terminal-failure-kept-result-not-written = the log has taken it, so do not enter it again; but the result cannot be written: { $error }
terminal-failure-or-replace = { $error }, or, where the command has it, --replace
terminal-failure-what-above-made-what-sound = { $error }. What is above was made of what is sound in it; entries may be missing. ebbstead recover saves what can be read into a new log

## words/prompts

label-why = Why
label-careful = Careful
label-would-change = What would change this
label-logged = Logged
label-now = now
label-reading = reading
label-meter-check = meter check
label-expected = expected
label-if-waiting = if you wait
label-if-treating = if you treat now
label-nine-in-ten = nine times in ten
label-low-line = low line
label-floor-line = very low
label-high-line = high line
verdict-treat = Treat
verdict-check = Check first
verdict-hold = Hold
verdict-clear = Nothing to decide
verdict-help = Get help
heading-own-plan = Your own plan
heading-sick-day-plan = Your sick-day plan
matter-falling = Falling or low
matter-rising = High or rising
matter-night-wake = Woken in the night
matter-steady = Steady
matter-too-little = Too little to go by
sentence-call-for-help = Get help now: call the emergency number, or have somebody call. This is past what an app can do.
sentence-treat-confirmed-low = Take rescue carbohydrate now, the first step your care team gave you (commonly 15 to 20 g): the meter shows a low.
sentence-treat-below-floor = Take rescue carbohydrate now, the first step your care team gave you (commonly 15 to 20 g): you are very low.
sentence-treat-low = Take rescue carbohydrate now, the first step your care team gave you (commonly 15 to 20 g): you are low.
sentence-treat-before-low = Take rescue carbohydrate now, the first step your care team gave you (commonly 15 to 20 g): you are about to be low, and waiting for the next look would be too late.
sentence-treat-felt-low = Take rescue carbohydrate now, the first step your care team gave you (commonly 15 to 20 g): you feel low, and that counts.
sentence-treat-again-and-call = Call somebody now, and take the same rescue step again: you took it several times and are still low.
sentence-check-felt-meter-disagrees = Check with the meter again now: you feel low, and the meter says otherwise. Your feeling counts.
sentence-check-meter-was-low = Check with a meter now: your last check was low, and nothing was noted as eaten since.
sentence-check-unseen-low = Check with a meter now: your last check was low and the sensor did not show it, so it cannot show whether what you ate was enough.
sentence-check-other-sensor = Check with a meter now: another sensor you wear reads low, and this one does not.
sentence-check-after-severe = Check with a meter, and stay with somebody: you noted signs of a severe low, and nothing shows yet that it is over.
sentence-check-meter-twice = Wash your hands and check a third time: one check was low and the next was not, minutes apart. Until then, go by the low one.
sentence-check-meter-high = Wash your hands and check again: the meter reads far above the sensor, and sugar on a finger does that.
sentence-check-apart = Check with a meter now: sensor and meter are far apart, and one of them may be hiding a low.
sentence-check-insulin = Check with a meter, and check the entry: much more insulin was noted than is usual.
sentence-check-more-to-come = Check with a meter: you are falling, and insulin, movement or alcohol may take you further down.
sentence-check-stuck = Check with a meter: the sensor has shown the very same number for too long.
sentence-check-ended = Check with a meter: this sensor was noted as ended.
sentence-hold-meter-near = Hold off treating: the meter puts you just above your low line. Look again soon.
sentence-hold-after-jump = Hold off: a reading jumped and came back. The next readings will show which is right.
sentence-hold-insulin-to-come = Hold off, and look again soon: more insulin is noted than was eaten for, and it may take you low. If it was for a meal, eat that meal, or note it if you did.
sentence-check-felt-disagrees = Check with a meter now: what you feel and what the sensor reads do not go together.
sentence-check-compression = Roll off the sensor and check with a meter: it looks pressed, and a pressed sensor reads too low.
sentence-check-rolled-off = Stay off the sensor and check with a meter: readings of a pressed sensor come back within minutes.
sentence-check-still-low = Check with a meter now: you are off the sensor, and the readings have not come back.
sentence-check-unsettled = Check with a meter before you act: the sensor is new or unsettled.
sentence-check-stale = Check with a meter: the newest reading is too old to act on.
sentence-check-falling-fast = Check with a meter now: you are falling fast, and the sensor reads behind your blood.
sentence-check-near-low = Check with a meter: you are near your low line, and a meter would settle it.
sentence-check-just-low = Check with a meter: you were low a moment ago, and may be low again.
sentence-check-low-rising = Check with a meter: the sensor still reads low, yet your glucose is probably rising already.
sentence-hold-compression = Roll off the sensor and look again: it looks pressed, and a pressed sensor reads too low.
sentence-hold-near-low = Hold off treating: you are near your low line, yet not falling now.
sentence-hold-falling = Hold off treating: you are falling, yet not expected to be low before the next look.
sentence-hold-rescue-working = Hold off taking more: the rescue carbohydrate you took needs time to work.
sentence-hold-meter-above = Hold off treating: your meter check is fresh, and it is above your low line.
sentence-hold-insulin-working = Hold off correcting: you are high, and insulin you took is still working.
sentence-hold-meal-arriving = Hold off correcting: you are rising while a meal is still arriving.
sentence-hold-rising = Hold off for now: you are high or rising, and the next look will show more.
sentence-hold-own-plan = You are high: this is what your own correction plan is for, if your care team gave you one.
sentence-check-high = Check with a meter before you correct: the sensor reads very high.
sentence-call-for-ketones = Get help now: ketones this high can be ketoacidosis. Call your care team's emergency line or the emergency number.
sentence-check-ketones = Measure ketones now: illness, or a high that lasts, can bring them up.
sentence-check-vomiting = Check with a meter: you are vomiting while insulin works, and what you ate may not stay down.
sentence-sick-day-plan-now = Follow your sick-day plan now and call your care team: your ketones are high.
sentence-sick-day-plan-vomiting = Follow your sick-day plan and call your care team: you are vomiting, and you have been high for long.
sentence-sick-day-plan = Follow your sick-day plan: your ketones are raised. Drink, and measure them again within two hours.
sentence-nothing-to-decide = No action needed. Look again when something changes.
sentence-no-readings = There are no readings to go by. If you feel low or are unsure, check with a meter; with no meter at hand, treat.
without-meter-treat = No meter at hand: treat.
without-meter-check = No meter at hand: look again soon, and treat if you feel low.
without-meter-hold = No meter at hand: hold off, look again soon, and treat if you feel low.
without-meter-clear = No meter at hand: nothing needs deciding now.
without-meter-help = Meter or not: get help.
without-ketone-meter = No ketone meter at hand: follow your sick-day plan, and call your care team if you feel unwell.
without-meter-high = No meter at hand: do not correct by this reading alone, and look again soon. If it stays high or you feel unwell, call your care team.
look-again-at-once = Look again at once.
look-again-1 = Look again in 1 minute.
look-again = Look again in { $minutes } minutes.
reason-reading = The sensor read { $amount }, { $ago }.
reason-reading-beyond-below = The sensor read LOW: below { $amount }, { $ago }.
reason-reading-beyond-above = The sensor read HIGH: above { $amount }, { $ago }.
reason-blood = Your blood glucose, which the sensor follows with a delay, is { $expected }.
reason-rate-level = Glucose is { $movement }.
reason-rate-falling = Glucose is { $movement }; kept up, it would be { $amount } lower in half an hour.
reason-rate-rising = Glucose is { $movement }; kept up, it would be { $amount } higher in half an hour.
reason-easing-fall = The fall is easing off: { $before } half an hour ago, { $now } now.
reason-easing-rise = The rise is easing off: { $before } half an hour ago, { $now } now.
reason-if-so = , if so in about { $span }
reason-chance-low = Chance of a reading below your low line ({ $line }) within { $within_minutes } minutes: { $chance }{ $when }.
reason-if-waiting = If you wait: { $chance } chance of blood glucose below { $line } within { $within_minutes } minutes{ $when }.
reason-if-treating = If you treat now: { $chance } chance of blood glucose below { $line } within { $within_minutes } minutes, and { $high_chance } of rising above your high line within an hour.
reason-chance-floor = Chance of a very low reading (below { $line }) within { $within_minutes } minutes: { $chance }.
reason-chance-high = Chance of a reading above your high line ({ $line }) within { $within_minutes } minutes: { $chance }.
reason-meter = The meter showed { $amount }, { $ago }.
reason-meter-beyond-below = The meter showed LOW: below { $amount }, { $ago }.
reason-meter-beyond-above = The meter showed HIGH: above { $amount }, { $ago }.
reason-feels-low = You feel low.
reason-feels-high = You feel high.
reason-severe-signs = Signs of a severe low: confused, unable to swallow, or not responding.
reason-compression = Chance that the sensor is pressed: { $chance }; without that, you would be near { $without }.
reason-meter-apart-high = By your meter checks, the sensor reads about { $amount } too high.
reason-meter-apart-low = By your meter checks, the sensor reads about { $amount } too low.
reason-other-sensor = Another sensor you wear read { $amount }, { $ago }.
reason-doubtful-dose = { $dose } of insulin were noted { $ago }; that is far more than usual.
reason-long-acting-twice = Long-acting insulin was noted more than once, { $dose } together, the newest { $ago }: see whether it was noted twice or taken twice.
reason-rescues = You took rescue carbohydrate { $times } times in the last hour or so.
reason-stuck = The reading has not changed at all for { $span }.
reason-ended = The sensor was noted as ended { $ago }.
reason-rolled-off = You rolled off the sensor { $ago }.
reason-unsettled = Chance that the sensor is unsettled (jumps, dropouts): { $chance }.
reason-first-day = The sensor went in { $ago }; its first day is unreliable.
reason-stale = The newest reading is { $span } old.
reason-sudden-drop = After a level stretch the readings went from { $from } to { $to } in { $span }; that is hard to believe unchecked.
reason-rescue = You took { $grams } g of rescue carbohydrate { $ago }.
reason-insulin-on-board = Insulin on board: about { $dose } of rapid insulin still to act, the newest taken { $ago }.
reason-carbohydrate-arriving = About { $grams } g of carbohydrate are still arriving.
reason-alcohol = You noted { $dose } of alcohol, the newest { $ago }; alcohol can lower glucose until the next noon.
reason-ketones = Ketones { $amount } mmol/L { $ago }.
reason-ill = You are ill, as you noted { $ago }.
reason-vomiting = You are vomiting, as you noted { $ago }.
reason-high-for = You have been above your high line for { $span }.
reason-no-insulin-noted = No rapid insulin was noted in the last { $span }.
reason-insulin-not-lowering = You took rapid insulin { $ago }, and it has not lowered your glucose yet.
reason-moving = You are moving, which lowers glucose.
reason-moved = You stopped moving { $ago }; glucose can go on falling after movement.
caution-sensor-lags = The sensor reads minutes behind blood; in a fall, blood is lower already.
caution-sensor-lags-rising = The sensor reads minutes behind blood; in a rise, blood is higher already.
caution-meter-decides = Where sensor and meter differ, the meter decides.
caution-in-doubt-treat = If in doubt and no meter is at hand, treat.
caution-recheck-in15 = If you are still low after 15 minutes, take the same step again.
caution-rise-takes-time = The sensor may show no rise yet after 15 minutes; a meter shows it sooner.
caution-do-not-stack = Insulin on top of insulin that still works can bring a low later.
caution-no-dose = No dose is named here: that is for your own plan and your care team.
caution-ketones-when-high = High for hours, or unwell: test for ketones, and follow your care team's rules for sick days.
caution-ketones-again = Raised ketones: measure them again within two hours, and do not exercise. If you vomit, cannot drink, breathe fast or get worse, get help.
caution-ketones-emergency = Your ketones call for help too: once the low is treated, call the emergency number.
caution-ketones-after-low = Your ketones are raised too, and need carbohydrate. Once the low is treated, follow your sick-day plan, call your care team, and measure ketones again within two hours.
caution-ketones-high = High ketones: follow your sick-day plan and call your care team now, though glucose is not high. Measure them again within two hours.
caution-insulin-may-not-get-in = Insulin may not be getting in: a pump's site or tube can fail, insulin can spoil. Your plan says what to do then.
caution-may-not-stay-down = If you cannot keep sugar down, call for help: rescue glucagon may be needed.
caution-first-day-unreliable = In a sensor's first day, believe the meter rather than the sensor.
caution-nothing-by-mouth = Give nothing by mouth to somebody who cannot swallow or does not respond. Use rescue glucagon if it is there and you were shown how.
caution-call-somebody = Let somebody know, and stay with people. If it gets worse, call the emergency number.
caution-alcohol-lowers-later = After alcohol, lows come late and feel like being drunk: eat before sleep, and let somebody know.
caution-insulin-right-or-wrong = If the entry is wrong, put it right or take it back. If it is right, call your care team or the emergency number now, and keep checking with a meter.
caution-feelings-count = If you feel low, that counts more than the number.
change-reading-below = a reading below { $amount }
change-reading-above = a reading above { $amount }
change-falling-faster-than = a fall faster than { $rate }
change-meter-below = a meter check below { $amount }
change-meter-above = a meter check of { $amount } or more
change-ketones-above = ketones of { $amount } mmol/L or more
change-feeling-low = feeling low
change-readings-come-back = readings that come back within minutes of rolling off the sensor
change-new-readings = new readings

## words/quantities

pace-level = level
pace-slow = slowly
pace-fast = fast
pace-very-fast = very fast
movement-level = level
movement-falling = falling
movement-rising = rising
chance-under-1 = under 1 %
chance-over-99 = over 99 %
expected = about { $amount } ({ $low } to { $high })
ago-just-now = just now
ago = { $span } ago
beyond-below = too low to measure (below { $amount })
beyond-above = too high to measure (above { $amount })
insulin-units = { $units } { $count ->
    [one] unit
   *[other] units
    }
alcohol-drinks = { $drinks } { $count ->
    [one] drink
   *[other] drinks
    }
meter-checks = { $count } { $count ->
    [one] meter check
   *[other] meter checks
    }
span-moment = under a minute
span-minutes = { $count } { $count ->
    [one] minute
   *[other] minutes
    }
span-hours = { $count } { $count ->
    [one] hour
   *[other] hours
    }
span-hours-minutes = { $hours } h { $minutes } min
span-days = { $count } { $count ->
    [one] day
   *[other] days
    }
span-after-days = { $count } { $count ->
    [one] day
   *[other] days
    }

## words/entries

entry-sensor-reading = sensor reading { $amount }
entry-sensor-beyond = sensor reading { $beyond }
entry-meter-check = meter check { $amount }
entry-meter-beyond = meter check { $beyond }
entry-carbohydrate = carbohydrate { $grams } g, { $purpose }
entry-alcohol = alcohol { $dose }
entry-ketones = ketones { $amount } mmol/L
entry-ill = ill
entry-vomiting = ill and vomiting
entry-well-again = well again
entry-activity = activity: { $activity }, { $minutes } minutes, { $effort }
entry-activity-1 = activity: { $activity }, 1 minute, { $effort }
entry-sleep = sleep until { $until }
entry-sensor-inserted = sensor put in
entry-lot = , lot { $lot }
entry-sensor-warm-up-over = sensor warm-up over
entry-sensor-rolled-off = rolled off the sensor
entry-sensor-ended = sensor ended
entry-sensor-fault = sensor fault: { $seen }
entry-sensor-device-fault = sensor fault: { $code }
entry-note = note: { $text }
entry-compression-low = sensor pressed until { $until }
entry-supply-good-until = , good until { $day }
entry-supply-from = , from { $from }
entry-prompted-chance = , chance of a low within 30 minutes { $chance }
entry-import = brought in: { $name }
entry-retraction = an entry taken back
item-sensor = sensors
item-transmitter = transmitters
item-battery = batteries
item-test-strip = test strips
item-rapid-insulin = rapid insulin
item-long-acting-insulin = long-acting insulin
item-rescue-carbohydrate = rescue carbohydrate
stocked-counted = counted
stocked-received = received
stocked-used = used
stocked-thrown-away = thrown away
stocked-quoted = offered
insulin-rapid = rapid insulin
insulin-long-acting = long-acting insulin
purpose-meal = meal
purpose-rescue = rescue
effort-light = light
effort-moderate = moderate
effort-hard = hard
symptom-feels-low = feels low
symptom-feels-high = feels high
symptom-none = feels neither low nor high
symptom-severe = severe signs
device-fault-sensor-type = the device does not take this sensor
device-fault-sensor-malfunction = the sensor reports a malfunction
device-fault-general = the sensor reports a general fault
spell = { $date }, { $from } to { $until }
entry-sensor-rated = , rated for { $days } { $days ->
    [one] day
   *[other] days
    }
entry-prompted-treat = shown: treat
entry-prompted-check = shown: check first
entry-prompted-hold = shown: hold
entry-prompted-clear = shown: nothing to decide
entry-prompted-help = shown: get help

## words/chart

chart-nothing = No readings to show.
chart-past = Past { $span }: from { $first } to { $last }, the newest at { $last_at }; lowest { $lowest } at { $lowest_at }, highest { $highest } at { $highest_at }.
chart-ahead = in { $minutes } minutes { $expected }
chart-expected = Expected glucose: { $each } (in brackets: where it is nine times in ten).
chart-if-treated = If you treat now: about { $amount } in an hour.

## words/lessons

lesson-too-little = Too little to learn your own values from: have { $have_days } { $count ->
    [one] day
   *[other] days
    } of readings, need { $need_days }. Until then the values that fit most people hold.
lesson-rests-on = This rests on { $days } days with { $readings } readings and { $checks }.
lesson-own-used = Your own values are used from now on: with them, half-hour forecasts fitted what then came { $percent } % better than with the usual values (score { $score_own }, before { $score_population }).
lesson-own-not-used = Your own values were tried and forecast no better, so the usual values stay in use (score { $score_own }, with the usual values { $score_population }).
lesson-moves = Your glucose moves { $times } times as much as most people's.
lesson-moves-at-night = In your night it moves { $times } times as much as in your day.
lesson-moves-when-high = Near { $high } it moves { $times } times as much as near { $low }.
lesson-scatter = Single readings scatter by about { $amount } around their course.
lesson-lag = Your sensor runs about { $minutes } minutes behind blood.
lesson-lag-needs-checks = How far your sensor runs behind blood is unknown yet: have { $checks } in these days, need { $need }.
lesson-forecasts = Forecasts were corrected by how { $count } of them turned out.
calibration-figures = { $shown } chances, worked out from what was known at each time: { $mean_chance } % on average, and { $came } % came. They were off by { $off } points on average.
calibration-too-few = Not enough yet to say: falls have been watched through { $have } { $count ->
    [one] half-hour
   *[other] half-hours
    }, { $need } are needed.
calibration-calibrated = The chances were well calibrated, as far as can be seen. { $figures }
calibration-over-forecasts = Lows come less often than the chances say. { $figures }
calibration-under-forecasts = Lows come more often than the chances say. { $figures }

## words/files

finding-column = , column { $column }
finding-no-time = there is no time; left out
finding-time-unreadable = the time is not written like the others; left out
finding-offset-contradicts = this contradicts the time beside it: another offset from UTC; left out
finding-time-outside-years = the year is outside 2000 to 2199; left out
finding-in-future = the time lies ahead of this device's clock; left out. Check both clocks
finding-not-a-number = this is no number; left out
finding-says-low = too low for the sensor to measure; taken as such a reading
finding-says-high = too high for the sensor to measure; taken as such a reading
finding-other-unit = outside what a sensor reads in this file's unit, yet possible in the other; left out
finding-names-other-unit = this row names another unit than the file; left out
finding-too-few-cells = the row ends before the reading; left out
finding-too-many-cells = more cells than the columns have names; left out. A decimal comma needs quotation marks or another separator
finding-contradicts = another amount for the same time; both taken, the lower one is used
finding-clock-went-back = times step back here: taken as the night the clocks went back
finding-hour-that-never-was = the clocks went forward over this time; taken as if they had not
finding-open-quote = this quotation mark is not closed on its line; closed there, and the lines below are read as rows
finding-line = line { $line }{ $column }{ $given }: { $reason }
fault-nothing = nothing
fault-empty = the file is empty; nothing was taken
fault-no-rows = there are names of columns and no readings below them; nothing was taken
fault-not-text = this is no table of text, or it is in UTF-16; save it as CSV in UTF-8
fault-no-time-column = no column is named like a time (found: { $seen }); say which one holds it
fault-no-glucose-column = no column is named like glucose readings (found: { $seen }); say which one holds them
fault-several-glucose-columns = more than one column could hold the sensor's readings ({ $seen }); say which one
fault-no-such-column = there is no column { $asked } (found: { $seen })
fault-times-unknown = the time { $given } is written in no way known here; say how, such as { $like }
fault-day-or-month = in { $given } either number could be the day; say which: { $day_first } or { $month_first }
fault-bad-time-format = { $given } is no way to write times; use signs such as %Y-%m-%d %H:%M:%S
fault-unit-unknown = values such as { $given } fit mg/dL as well as mmol/L; say which unit the file is in
fault-other-unit = the file is said to be in { $said }, yet values such as { $given } look like { $fits }; say that the file is in { $fits }. Nothing was taken
fault-several-kinds = its rows are of several kinds ({ $column } says: { $seen }), and which of them give glucose is unknown; keep only the rows with glucose
fault-another-unit = column { $column } says that the readings are in { $given }, which is not read here; convert them and name the unit. Nothing was taken
fault-unit-not-named = no unit is named, and values such as { $given } would all be low in mmol/L: they may be g/L. Say which unit it is, or convert g/L first. Nothing was taken
fault-several-units = column { $column } says another unit than other rows or the name of the readings; keep the rows of one unit. Nothing was taken
fault-offset-unknown = column { $column } holds offsets from UTC, and { $given } cannot be read; write +01:00, or drop the column if times are local. Nothing was taken
fault-several-sensors = column { $column } names sensors that read at the same time ({ $seen }); keep the rows of one, or drop the column if they are one. Nothing was taken
fault-only-meter = the only glucose is named as a meter’s (found: { $seen }); add meter checks one by one, or say which column is the sensor’s. Nothing was taken
fault-row-too-long = this row is longer than 1 MB, the limit for one; look for a quotation mark that is never closed
refused-column = :{ $column }
refused = { $file }:{ $line }{ $column }: { $why }
finding-out-of-range = outside { $least } to { $most }; left out

## words/counted

counted-readings = { $count } { $count ->
    [one] reading
   *[other] readings
    }
counted-sensor-readings = { $count } { $count ->
    [one] sensor reading
   *[other] sensor readings
    }
counted-new-readings = { $count } { $count ->
    [one] new reading
   *[other] new readings
    }
counted-entries = { $count } { $count ->
    [one] entry
   *[other] entries
    }
counted-other-entries = { $count } { $count ->
    [one] other entry
   *[other] other entries
    }
counted-new-entries = { $count } { $count ->
    [one] new entry
   *[other] new entries
    }
counted-imports = { $count } { $count ->
    [one] import
   *[other] imports
    }
counted-figures = { $count } { $count ->
    [one] review figure
   *[other] review figures
    }
counted-rows = { $count } { $count ->
    [one] row
   *[other] rows
    }
counted-resources = { $count } { $count ->
    [one] resource
   *[other] resources
    }
counted-sources = { $count } { $count ->
    [one] source
   *[other] sources
    }
counted-more = { $count } more

## words/errors

error-out-of-range = { $what } must be { $low } to { $high } { $unit }, not { $given }
error-over-nothing = { $what } must be more than 0 and at most { $high } { $unit }
error-invalid = { $what }: { $why }
error-no-such-entry = no entry { $id } in this log
error-not-a-log = { $path }: not an Ebbstead log; the file was left as it is. Give another path
error-newer-log = { $path }: written by a newer Ebbstead (layout { $found }, this one reads up to { $known }); the file was left as it is. Update Ebbstead
error-damaged-log = { $path }: the log is damaged ({ $what }); the file was kept as it is. Copy it before anything else
error-disk-full = { $path }: no room left on the disk; nothing of this was written. Free some space and try again
error-log-was-empty = { $path } was there and empty; a new log was begun in it. If a log was kept there, its entries are gone from it: look for a copy
error-read-only = { $path }: the log cannot be written (read-only file or folder)
error-gone = { $path }: the log was deleted, moved or replaced while it was open; nothing of this was written. Open it again
error-busy = { $path }: another program is writing to the log; try again
error-not-a-sealed-log = { $path }: not a sealed log, or one that a newer Ebbstead sealed
error-wrong-passphrase = { $path }: the passphrase does not open it; nothing was changed. If you are sure of it, the file's first lines may be damaged
error-damaged-sealed-log = { $path }: the sealed log is damaged ({ $what }); nothing was taken from it. Use another copy
error-database = { $path }: the log could not be used ({ $source })
file-exists = there is such a file already, and it was left as it is; give another name
file-not-found = there is no such file or folder
file-permission-denied = the system does not allow it
file-is-a-folder = this is a folder
quantity-glucose = glucose
quantity-limit-of-too-low-to-measure = limit of too low to measure
quantity-limit-of-too-high-to-measure = limit of too high to measure
quantity-insulin = insulin
quantity-carbohydrate = carbohydrate
quantity-alcohol = alcohol
quantity-activity = activity
quantity-sleep = sleep
quantity-country = country
quantity-language = language
quantity-morning = morning
quantity-ketones = ketones
quantity-time-until-the-morning = time until the morning
quantity-length-of-the-drive = length of the drive
quantity-length-of-the-movement = length of the movement
quantity-compression-low = compression low
quantity-low-line = low line
quantity-high-line = high line
quantity-insulin-factor = insulin factor
quantity-carbohydrate-factor = carbohydrate factor
quantity-rated-length = rated length
quantity-lead-time = lead time
quantity-amount-of-a-supply = amount of a supply
quantity-price = price
quantity-quote = quote
quantity-currency = currency
quantity-chance = chance
quantity-time = time
quantity-hours = hours
quantity-text = text
quantity-source = source
quantity-passphrase = passphrase
quantity-retraction = retraction
quantity-bluetooth-message = Bluetooth message
quantity-contact-number = contact number
quantity-correction = correction
quantity-days = days
quantity-delay = delay
quantity-document = document
quantity-emergency-number = emergency number
quantity-entry = entry
quantity-expiry-date = expiry date
quantity-header = header
quantity-alert-for-highs = alert for highs
quantity-alert-for-lows = alert for lows
quantity-alert-for-a-lost-signal = alert for a lost signal
quantity-alert-for-rates = alert for rates
quantity-identity = identity
quantity-log = log
quantity-log-file = log file
quantity-number = number
quantity-other-log = other log
quantity-period = period
quantity-repetition = repetition
quantity-sensor = sensor
quantity-setting = setting
quantity-snooze = snooze
quantity-table-of-events = table of events
quantity-zone = zone
why-empty = is empty
why-too-long = is over { $most } bytes
why-control-characters = has control characters
why-not-one-line = must be one line of at most { $most } bytes
why-malformed = "{ $given }"; write it like { $like }
why-not-dialled = give 2 to 15 digits, such as +49 30 123456
why-no-number = is no number
why-two-ways = { $given } can mean two numbers; write it without a sign for thousands
why-corrected-elsewhere = was corrected on another device since; name the entry to take back
why-fits-other-unit = fits only the other unit
why-ketones-too-high = this is more than the meter can measure: call your care team or emergency help now, as your sick-day plan says. To note it, enter the highest number the meter shows
why-outside-years = is outside the years { $first } to { $last }
why-offset-from-utc = is { $minutes } minutes from UTC
why-same-hours = give two different times of day between 00:00 and 23:59
why-in-future = { $at } lies in the future of this device's clock ({ $clock }); check both
why-ends-before-it-begins = ends before it begins
why-over-a-day = lasts over 24 hours
why-not-after = { $until } is not after { $from }
why-pieces-come-whole = must be a whole number of pieces
why-names-no-price = names no price
why-names-no-entry = names no entry
why-not-its-own = is not this reading's own
why-few-characters = needs at least { $least } characters; several words are easiest to remember
why-few-different = needs at least { $least } different characters
why-retract-instead = hides the entry; take it back instead
why-import-only-renamed = an import can only be renamed
why-import-taken-back = the entry came with an import that was taken back; bring the import back first
why-has-entries = has entries already; merge the other one as from another device
why-cannot-be-taken = cannot be taken
why-cannot-be-compared = cannot be compared
why-no-such-sensor = no such sensor is in the log
why-merge-warnings = something speaks against merging it
why-no-home-folder = there is no home folder; say where the log is
why-one-offset = a table of events needs one offset from UTC
why-needs-columns = needs the columns { $names }
damage-side-file-alone = the file is missing or empty, but the one beside it with -wal in its name holds entries
damage-first-page = its first page is not readable
damage-pages = its pages contradict each other
damage-auto-vacuum = another program rewrote it with auto-vacuum
damage-ends-early = it ends early
damage-table = a table is not as it was made
damage-value = a value is of the wrong kind
damage-row-too-large = a row is larger than any that is written
damage-reading = a reading is not as it was written
damage-entry = an entry is not as it was written
damage-setting = a setting is not as it was written
damage-source-without-name = a source has no name
damage-import-without-identity = an import has no identity
damage-stray = an entry names a source or import that is not there
damage-identity = its own identity is not as it was written
damage-head = its head was changed
damage-memory = opening it would take more memory than is given to any sealed log
damage-piece = a piece of it was changed
damage-empty = it is empty
damage-line = a line in it cannot be read
damage-reading-without-source = a reading has no source
damage-reading-cannot-be = a reading cannot be
damage-entry-cannot-be = an entry cannot be
damage-readings-out-of-order = its readings are out of order
damage-lines-out-of-order = its lines are out of order
damage-counts = it counts other than it holds
damage-after-end = something comes after its end
damage-read-back = what was read back is not what was written
damage-side-file-head = the first bytes of the file beside it with -wal in its name are not as they were written
damage-side-file = the file beside it with -wal in its name is not as it was written
damage-side-file-lost = the file beside it with -wal in its name is missing or cut off
damage-reading-before-source = a reading lies before its source begins
damage-source-start = where a source begins is not as it was written
damage-layout = its layout says version { $found }
unit-units = units
unit-drinks = drinks
unit-minutes = minutes
unit-days = days
unit-pieces = pieces
unit-of-the-currency = of the currency
unit-as-a-share = as a share
unit-mg-dl-a-unit = mg/dL a unit
unit-mg-dl-a-gram = mg/dL a gram

## words/shell

shell-screen-now = Now
shell-screen-night = Night
shell-screen-log = Log
shell-screen-settings = Settings
shell-look-now = Look now
shell-feel-low = I feel low
shell-feel-high = I feel high
shell-feel-neither = I feel neither
shell-severe-signs = Somebody is confused, cannot swallow or does not respond
shell-i-treated = I treated a low
shell-i-rolled-over = I rolled off the sensor
shell-meter-shows = The meter shows
shell-sensor-inserted = New sensor put in
shell-sensor-site = Where, in your own words
shell-sensor-fault = What was wrong with it
shell-sensor-ended = Sensor taken off
shell-lot = Lot on the package
shell-by-day = By day
shell-by-night = By night
shell-add = Save
shell-undo-last = Undo the last
shell-put-right = Correct
shell-take-back = Take back
shell-log-empty = Nothing noted in this time.
shell-nothing-to-undo = Nothing is left to undo.
shell-taken-back = taken back
shell-kept = kept in the log
shell-unit = Unit
shell-language = Language
shell-night-from = Night begins
shell-night-until = Night ends
shell-weighing = A needless treat against a missed low
shell-weighing-sparing = Fewer and later prompts to treat
shell-weighing-balanced = The usual
shell-insulin-factor = 1 unit of rapid insulin lowers by
shell-carbohydrate-factor = 1 g of carbohydrate raises by
shell-factors-from-care-team = Only as set with your care team. Left empty, nothing is assumed.
shell-low-line = Low line
shell-high-line = High line
shell-alert-below = Alert below
shell-alert-above = Alert above
shell-save = Save
shell-cancel = Cancel
shell-screen-record = Record
shell-screen-review = Review
shell-screen-sensors = Sensors
shell-screen-alerts = Alerts
shell-screen-learnt = What was learnt
shell-days-back = How many days
shell-rated-days = Days your sensors are rated for
shell-show-these = Show
shell-sensor-sheet = Sheet about the newest sensor
shell-print-review = Save to print or take along
shell-try-delay = Alert only once a high has lasted (minutes)
shell-try-repeat = Repeat every (minutes)
shell-replay = Replay
shell-learn-now = Learn from the log now
shell-nothing-learnt = Nothing was learnt yet. It takes some days of readings.
shell-aims-name = Which published targets
shell-aims-adult = Adults with type 1 or type 2
shell-aims-older = Older people, or at high risk
shell-aims-pregnancy = Pregnancy with type 1
shell-compression-lows = Readings while the sensor was pressed
shell-compression-in = Count them
shell-compression-out = Leave them out
shell-read-file = Read a file of readings
shell-find-sensor = Find a sensor nearby
shell-screen-supplies = Supplies
shell-screen-outcomes = Outcomes
shell-screen-copies = Copies
shell-which-supply = Which supply
shell-supply-stocked = What happened
shell-supply-expires = Last day of use, such as 2027-03-01, if you know it
shell-supply-currency = Currency, three letters
shell-supply-from = From whom, if you want to note it
shell-lead-days = Days between ordering and having it
shell-statement = Facts for a letter on why you need the sensor
shell-save-text = Save as text
shell-seal-log = Write a sealed copy of everything
shell-passphrase = Passphrase, at least { $least } characters
shell-passphrase-again = The same passphrase once more
shell-passphrase-lost = Nobody can open the copy without its passphrase. Keep it where you will find it.
shell-passphrase-of-copy = Its passphrase, if it is sealed
shell-merge = Merge
shell-merge-anyway = Merge anyway
shell-copy-restores = This log is empty: the copy's settings and what was learnt come with it.
shell-get-help = Get help
shell-help-now = Call when somebody is confused, cannot swallow or does not respond.
shell-help-meanwhile = Nothing to eat or drink for somebody who cannot swallow. Lay them on their side and stay. Glucagon, if it is there and you were shown how.
shell-call-emergency = Call
shell-call-contact = Call your contact
shell-emergency-number = Emergency number
shell-contact-number = Your contact's number
shell-meter = Meter
shell-feel-low-short = I feel low
shell-more = Show all
shell-less = Show less
shell-back = Back
shell-add-entry = Add
shell-first-title = Before you begin
shell-first-is = Woken by an alarm, this helps you decide: treat, check with a meter, or hold. It works on this phone alone, without the network.
shell-agree = I understand
shell-next = Next
shell-where-from = Where readings come from
shell-sensor-why = A sensor that speaks Bluetooth's standard glucose services. The phone will ask whether devices nearby may be looked for.
shell-sensor-refused = Devices nearby cannot be looked for: allow it in the phone's settings, and switch Bluetooth on.
shell-file-why = A table or an HL7 FHIR bundle. The phone will let you choose the file; nothing else is read.
shell-no-readings = No readings yet
shell-read-only-log = The log can only be read: nothing is kept. Decide by what it shows, and note on paper.
shell-alerts-off = Alerts may not ring: the phone holds back notifications of this app or their sound, or does not let them fill the locked screen. Allow all of it in the phone's settings.
shell-snooze = In { $minutes } minutes
shell-late-answer = Not noted: this alert rang at { $clock }. Add it to the log with the time it happened.
shell-standing-channel = Newest reading
shell-quiet-channel = Quiet alerts and notices
shell-left-channel = Alerts that nobody answered
shell-wakes-allowed = Let alerts wake me
shell-wakes-why = The phone will ask whether notifications may be shown. Without them nothing rings. Then it may ask whether an alert of the night may fill the locked screen: allow it, or the screen stays dark.
shell-silent-mutes = No alert sounds while this phone is in silent mode, nor after a restart until it was unlocked once. Do not swipe this app away: then the sensor no longer starts it.
shell-locked-after-start = Unlock this phone: until then no reading is watched and no alert can ring.
shell-try-alert = Ring once, to hear it
shell-tried-alert = Test: alerts sound like this.
shell-done = Begin
shell-keep-plan = Use these lines for alerts from now on
shell-lost-after = Alert to a lost signal after (minutes)
shell-screen-before = Before
shell-before-open = Before sleep, a drive, movement
shell-before-what = What lies ahead
shell-before-sleep = Sleep
shell-before-driving = A drive
shell-before-activity = Movement
shell-before-sleep-open = Before you sleep
shell-sensor-found = found
shell-sensor-connected = connected
shell-sensor-lost = out of reach
shell-leave-source = Stop reading
shell-read-health = Read the phone's health records
shell-health-why = Glucose that other apps keep in the phone's health records. The phone will ask what may be read; nothing is written.
shell-health-refused = The phone does not allow reading its health records. Allow glucose for this app in the phone's settings.
shell-health-missing = This phone has no health records that can be read. Choose another source.
shell-health-busy = The phone's health records cannot be read just now. It is tried again by itself.
shell-health-failed = The phone's health records could not be read. It is tried again by itself; until then, check with a meter.
shell-health-stays = Glucose is read from the phone's health records into the log on this phone, for its answers and alerts. Nothing is written there, and this app cannot use a network.
shell-no-medical-device = This is no medical device and names no dose. Your care team's plan goes before it. A severe low needs a person: get help.
advice-give-amount-from-to = Give an amount from { $low } to { $high } { $unit }.
advice-time-cannot-be-lies-ahead = This time cannot be: it lies ahead of this phone's clock or outside 2000 to 2199. Check both.
advice-write-short-text-without-control = Write a short text without control characters.
advice-write-number-such-as-5 = Write a number, such as 5.8.
advice-amount-only-fits-other-unit = This amount only fits the other unit. Check the unit in the settings.
advice-ketones-too-high = This is more than the meter can measure: call your care team or emergency help now, as your sick-day plan says. To note it, enter the highest number the meter shows.
advice-cannot-be-taken-as-check = This cannot be taken as it is. Check what was given.
advice-passphrase-does-not-open-file = The passphrase does not open this file. Nothing was changed. Type it again, word for word.
advice-no-sealed-log-or-newer = This is no sealed log, or a newer Ebbstead sealed it.
advice-sealed-log-damaged-nothing-taken = The sealed log is damaged; nothing was taken from it. Use another copy.
advice-there-no-such-entry-in = There is no such entry in this log.
advice-file-could-not-be-understood = The file could not be understood.
advice-file-cannot-be-opened-choose = The file cannot be opened. Choose it again.
advice-file-no-ebbstead-log-left = This file is no Ebbstead log. It was left as it is.
advice-log-written-by-newer-ebbstead = The log was written by a newer Ebbstead and left as it is. Update the app.
advice-log-damaged-and-kept-as = The log is damaged and was kept as it is. Copy it before anything else; until then decide with a meter.
advice-log-was-empty = The log's file was there and empty, and a new log was begun in it. If you kept a log, its entries are gone from it: look for a copy.
advice-no-room-left-on-device = No room left on this device: nothing of this was kept. Free some space and try again.
advice-log-cannot-be-written = The log cannot be written.
advice-log-deleted-moved-or-replaced = The log was deleted, moved or replaced while it was open: nothing of this was kept. Open it again.
advice-something-else-writing-to-log = Something else is writing to the log. Try again.
advice-log-could-not-be-used = The log could not be used. Try again.
advice-log-not-open-open-app = The log is not open. Open the app again; until then decide with a meter.
shell-weighing-early = Earlier prompts to treat, more of them needless
shell-floor-stays = Very low stays, and cannot be moved:
shell-supply-amount = How much: pieces, units of insulin or grams
shell-supply-price = Price of all of it, if you want to note it
shell-write-table = Write a table for spreadsheets (CSV)
shell-write-bundle = Write a bundle for health records (HL7 FHIR)
shell-passphrases-differ = The two differ. Type both again.
shell-recover-why = The log's file is damaged. What can be read of it is written into a new log, for you to keep. The damaged one is only read, and stays as it is.
shell-recover-log = Save what can be read
shell-recover-then = To go on with it, merge it into an empty log: that takes all of it, settings and what was learnt included. Keep the damaged one until you have looked through the new one.
shell-look-into-other = Look into another log or a sealed copy
shell-nothing-new = Everything in it is in this log already.

## sentences/before, pages/before

before-start-help = Do not start. Get help.
before-start-treat-first = Do not start: treat first.
before-start-not-after-severe-low = Not today: a severe low in the last 24 hours speaks against it.
before-start-not-with-ketones = Do not start: ketones of { $amount } mmol/L or more. Follow your sick-day plan and call your team.
before-start-not-while-ill = Do not start while you are ill or vomiting. Follow your sick-day plan.
before-start-wait-after-low = Not yet: after a low, wait until glucose has been back to normal for 45 minutes.
before-start-check-first = Check with a meter first.
before-start-raise-first = Raise it first, and wait until it is above where the published ranges begin.
before-start-small-first = Some carbohydrate first, then you can start.
before-start-insulin-to-come = Eat something first, then check again: more insulin is noted than was eaten for, and movement makes it lower more.
before-start-light-only = Light and short only: ketones are raised.
before-start-ketones-first = High: check ketones first, unless a meal explains it. Without them, light or moderate movement can start.
before-start-not-hard = Light or moderate only: hard movement may raise it further.
before-start-may-rise = You can start. This kind of movement may raise it at first.
before-start-can = You can start.
before-no-chance-can-be-given-there = No chance can be given: there is no reading. Check with a meter.
before-no-chance-can-be-given-the = No chance can be given: the newest reading came { $ago }. Check with a meter, and ask again once readings come.
before-no-chance-can-be-given-beyond = The chance over more than an hour needs half a day of readings; there are fewer.
before-no-chance-is-given-before-that = No chance is given before that is done: it changes what comes. Ask again afterwards.
before-no-chance-can-be-given-so = No chance can be given so far ahead: { $hours } hours are the most. Ask again nearer the time.
before-no-chance-insulin-to-come = No chance is given: more insulin is noted than was eaten for, and it may take you low. Ask again later.
before-meter = meter
before-sensor = sensor
before-do-that-first-then-ask-again = Do that first. Then ask again, at { $at } at the latest.
before-look-again-at-before-you-sleep = Look again at { $at } before you sleep.
before-look-once-in-the-night-set = Look once in the night: set an alarm for about { $at }.
before-nothing-seen-now-asks-for-a = Nothing seen now asks for a look in the night. Leave the alarm on.
before-check-with-a-meter-before-you = Check with a meter before you sleep: what the sensor shows is not enough to go by.
before-you-are-close-to-your-low = You are close to your low line, at { $amount }. Your team's plan for the evening says what to eat.
before-glucose-is-see-where-it-settles = Glucose is { $movement }. See where it settles before you sleep.
before-rapid-insulin-acts-until-about-a = Rapid insulin acts until about { $until }. Ask again then.
before-alcohol-lowers-late-until-the-next = Alcohol lowers late, until the next noon, and hides the signs. Eat with it, tell somebody, leave the alarm loud.
before-your-lows-begin = On { $nights } of your last { $of_nights } nights a low began between { $from } and { $to }.
before-you-moved-for-minutes-in-the = You moved for { $minutes } minutes in the last day. That lowers into the night; your team's plan says what to do.
before-you-were-low-in-the-last = You were low in the last 24 hours (lowest { $amount }). The next one is likelier and felt less.
before-severe-signs-within-a-day = You noted signs of a severe low in the last 24 hours. The next one is likelier and felt less: let somebody know.
before-you-are-ill = You noted illness: measure glucose and ketones every few hours, in the night too, and follow your sick-day plan.
before-you-vomit = You noted vomiting: what you eat may not stay down. Measure glucose and ketones every few hours, in the night too, and follow your sick-day plan.
before-do-not-drive-get-help = Do not drive. Get help.
before-do-not-drive-treat-first = Do not drive: treat first.
before-do-not-drive-after-severe-low = Do not drive: you noted signs of a severe low in the last 24 hours. Ask your care team when you may drive again; your local rules may ask you to report it.
before-check-with-a-meter-before-you-2 = Check with a meter before you drive.
before-do-not-drive-before-you-were = Do not drive before { $until } at the earliest: you were low, felt low or treated a low. Check again then.
before-eat-something-first-then-check-again = Eat something first, then check again: this is below what the rule asks for.
before-a-low-on-the-way-is = A low on the way is likely. Do something about it first, and check again before you drive.
before-do-not-drive-insulin-to-come = Do not set out yet: more insulin is noted than was eaten for, and it may take you low. Eat something first, then check again.
before-do-not-drive-on-alcohol = Do not drive on alcohol: you noted some in the last hours, and it lowers glucose for hours besides.
before-do-not-drive-sick-day-first = Do not set out yet: illness or ketones come first. Follow your sick-day plan, and drive once that is dealt with.
before-your-glucose-meets-the-rule-now = Your glucose meets the rule now. Whether you drive is your decision.
before-nothing-seen-now-speaks-against-it = Nothing seen now speaks against driving. Your local rules decide whether you may.
before-more-than-to-drive-at-or = More than { $eat } to drive. At { $eat } or less: eat something first.
before-below-or-feeling-low-do-not = Below { $not_below }, or feeling low: do not drive.
before-check-less-than-hours-before-you = Check less than { $hours } hours before you set out, and every { $hours } hours on the way.
before-after-a-low-wait-until-glucose = After a low, wait until glucose has been back to normal for { $after } minutes.
before-source-driver-and-vehicle-licensing-agency = Source: Driver and Vehicle Licensing Agency (United Kingdom), leaflet INF294, for cars and motorcycles. Buses and lorries have stricter rules.
before-to-g = { $least } to { $most } g
before-published-starting-point-of-glucose-your = Published starting point: { $range } of glucose. Your team's plan goes before it.
before-you-were-low-in-the-last-2 = You were low in the last 24 hours (lowest { $amount }): not alone, and not where a low is dangerous, such as in water.
before-rapid-insulin-was-taken-movement-makes = Rapid insulin was taken { $ago }. Movement makes it lower more.
before-alcohol-and-movement-both-lower = Alcohol and movement both lower glucose for hours, and alcohol hides the signs. Eat with it, do not go alone, and look often.
before-glucose-is-already-steady-movement-takes = Glucose is { $movement } already. Steady movement takes it further.
before-this-is-below-the-range-published = This is below the range published for your risk of lows.
before-ketones-of-mmol-l-are-raised = Ketones of { $amount } mmol/L are raised. Check them again, and follow your sick-day plan.
before-less-than-minutes = Less than { $minutes } minutes.
before-movement-in-the-evening-lowers-into = Movement in the evening lowers into the night: ask again before you sleep.
before-endurance = endurance
before-intervals = intervals
before-strength = strength
before-low-risk-of-lows = low risk of lows
before-moderate-risk-of-lows = moderate risk of lows
before-high-risk-of-lows = high risk of lows
before-if-a-low-comes-half-of = If a low comes, half of the times it is between { $from } and { $to }. Your alerts ring below { $rings } at night.
before-before-sleep = Before sleep
before-until = Until { $until }
before-what-makes-a-low-likelier-tonight = What makes a low likelier tonight
before-no-rule-for-is-known-here = No rule for { $country } is known here. Your local rules go before everything here.
before-no-country-is-set-so-no = No country is set, so no rule is known here. Your local rules go before everything here.
before-stop-and-check-at-at-the = Stop and check at { $at } at the latest.
before-before-driving = Before driving
before-over-the-drive = Over the drive, { $length }
before-the-rule = The rule
before-keep-fast-carbohydrate-and-a-meter = Keep fast carbohydrate and a meter within reach. Feeling low on the way: stop as soon as it is safe, and treat.
before-to = { $from } to { $to }
before-published-range-to-start-in = published range to start in
before-the-chances-are-those-at-rest = The chances are those at rest: what the movement adds is not known, and steady movement makes a low likelier.
before-before-movement = Before movement
before-what-to-mind = What to mind
before-these-are-published-starting-points-your = These are published starting points; your team's plan goes before them. Source: Riddell et al., Lancet Diabetes Endocrinol 2017;5:377-390; Moser et al., Diabetologia 2020;63:2501-2520.
before-feeling-low-counts-more-than-any = Feeling low counts more than any number here. Nothing here says how much insulin to take: your plan and your care team do.
before-now = now
before-for-everybody = usual { $everybody }
before-chance-of-a-reading-below = chance of a reading below { $line }
before-nothing-was-learnt-of-your-own = Nothing was learnt from your own nights yet: these chances are the usual ones.
before-of-your-own-last-nights-with = Of your own last { $nights } nights with enough readings, { $low } had one below { $below } and { $floor } one below { $far_below }.
before-these-chances-are-everybody-s-your = These chances are the usual ones: your own count from { $nights } nights on.
before-these-chances-are-everybody-s-correcting = These chances are the usual ones: correcting them by your nights made later nights no better.
before-beyond-six-hours-they-are-carried = Beyond six hours they are carried on at the same rate.
before-minutes = { $minutes } minutes
before-hours = { $hours } hours

## forms

form-before-until = Until
form-before-minutes = How long
form-before-kind = What kind
form-before-effort = How hard
form-before-ketones = Ketones in blood, if you just measured them
form-before-feels = What you feel now
form-settings-lines = Lines
form-settings-whom-to-call = Whom to call
form-settings-feels-lows = Do you feel a low in time?
form-settings-alone = Are you mostly alone, with nobody near who could help?
form-settings-costs-why = If you do not always feel lows, or nobody is near, a missed low weighs more: prompts to treat come earlier, and more of them are needless. Settle this with your care team.
form-settings-yes = Yes
form-settings-no = No
form-settings-morning = You get up
form-settings-factors = Factors
form-settings-shown = Country, unit, language
form-settings-country = Country, two letters, such as GB or DE
form-settings-country-why = For the rules before a drive. Left empty, no rule is known.
form-log-kind = What to add
form-log-meter = Meter check
form-log-rescue = Rescue carbohydrate
form-log-rapid = Rapid insulin
form-log-meal = Carbohydrate with a meal
form-log-long-acting = Long-acting insulin
form-log-feels = What you feel
form-log-activity = Movement
form-log-ketones = Ketones in blood
form-log-illness = Illness
form-log-alcohol = Alcohol
form-log-sleep = Sleep
form-log-sensor = Sensor
form-log-note = Note
form-log-amount = A number
form-log-too-low = Too low to measure (LO)
form-log-too-high = Too high to measure (HI)
form-log-drinks = How many drinks
form-log-drink-is = One drink is about { $grams } g of alcohol: a quarter of a litre of beer, or a tenth of a litre of wine.
form-log-how-ill = How ill you are
form-log-ill = Ill: fever, an infection, or unwell
form-log-vomiting = Vomiting, or nothing stays down
form-log-well-again = Well again
form-log-activity-what = What you did, such as walking
form-log-sensor-what = What happened
form-log-warmed-up = Its warm-up is over
form-log-fault = Something was wrong with it
form-log-rated-days = Days it is rated for
form-log-asleep = Fell asleep at
form-log-awake = Woke up at
form-log-happened = When it happened
form-log-choose = Choose one.
form-log-above-0 = Give an amount above 0 and up to { $high } { $unit }.
form-log-sleep-length = Waking up must come after falling asleep, and 24 hours later at most.
form-log-unchanged = Nothing was changed.
form-clock-hour = 1 h
form-clock-earlier = { $length } earlier: { $name }
form-clock-later = { $length } later: { $name }

## words/dates

date = { $day } { $month } { $year }
date-day-and-month = { $day } { $month }
date-time = { $date }, { $clock }
date-weekday = { $weekday }, { $date }
weekday-mon = Monday
weekday-tue = Tuesday
weekday-wed = Wednesday
weekday-thu = Thursday
weekday-fri = Friday
weekday-sat = Saturday
weekday-sun = Sunday
month-1 = Jan
month-2 = Feb
month-3 = Mar
month-4 = Apr
month-5 = May
month-6 = Jun
month-7 = Jul
month-8 = Aug
month-9 = Sept
month-10 = Oct
month-11 = Nov
month-12 = Dec
