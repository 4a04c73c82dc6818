## the language itself

language-name = Deutsch
number-decimal-mark = ,
number-group-mark = .

## sentences/supplies

supplies-order-now = Jetzt bestellen.
supplies-order-by = Bis { $day } bestellen.
supplies-how-much-there-never-noted = Bestand unbekannt: Zähl einmal und trag es ein.
supplies-there-counted = { $amount } vorhanden: deine Zählung vom { $day }, plus Lieferungen, minus Verbrauch.
supplies-usable-there = { $amount } brauchbar da, { $expired } abgelaufen.
supplies-there-by-what-noted-as = { $amount } da, nach dem, was als erhalten eingetragen ist.
supplies-more-used-than-ever-noted = { $short } mehr verbraucht, als je als vorhanden eingetragen war: zähl noch einmal.
supplies-how-fast-goes-not-known = Wie schnell es zur Neige geht, ist noch nicht bekannt: eine Woche Einträge oder zwei Zählungen im Abstand von zwei Wochen würden es sagen.
supplies-open = offen
supplies-runs-out-about-nine-times = Reicht bis etwa { $expected } (neun von zehn Malen zwischen { $earliest } und { $until }).
supplies-runs-out-about = Reicht bis etwa { $expected }.
supplies-lot = Charge
supplies-expired-on-do-not-use = { $amount }{ $lot } abgelaufen am { $day }: nicht mehr verwenden und als weggeworfen eintragen.
supplies-good-until-about-will-not = { $amount }{ $lot } haltbar bis { $day }; etwa { $left } davon werden bis dahin nicht verbraucht.
supplies-good-until-use-first = { $amount }{ $lot } haltbar bis { $day }: zuerst verwenden.
supplies-units = Einheiten
supplies-day = { $amount }{ $space }{ $unit } am Tag
supplies-sensor-lasts-days-on-average = Ein Sensor hält im Mittel { $mean } Tage (Standardabweichung { $sd }).
supplies-ended-early-or-had-fault = { $hits } von { $of } endeten früh oder hatten einen Fehler (95 %: { $low } bis { $high } %).
supplies-reckoned-with-rated-days-sensor = Gerechnet mit den vorgesehenen { $days } Tagen je Sensor, bis zwei beendet sind.
supplies-from-days-log-what-used = { $a_day }, aus { $days } Tagen des Protokolls; nicht eingetragener Verbrauch ist nicht mitgezählt.
supplies-from-your-counts = { $a_day }, aus deinen Zählungen.
supplies-nothing-noted-on-days = An { $days } Tagen wurde nichts eingetragen: Der Verbrauch ist ohne sie gerechnet, und so viel wie an anderen Tagen gilt als verbraucht.
supplies-offered = angeboten
supplies-paid = bezahlt
supplies-unit = { $each } je Einheit
supplies-gram = { $each } je Gramm
supplies-each = { $each } je Stück
supplies-day-wear-year = { $a_day } je Tragetag, { $a_year } im Jahr
supplies-day-year = { $a_day } am Tag, { $a_year } im Jahr
supplies-use-not-known-yet = Verbrauch noch nicht bekannt
supplies-from-to-sensor-readings-covering = Vom { $from } bis { $until }: { $readings } { $readings ->
    [one] Sensorwert, der { $share } % der Zeit abdeckt
   *[other] Sensorwerte, die { $share } % der Zeit abdecken
    }.
supplies-as-logged-meter-checks-and = Nach den Einträgen: { $checks } Blutmessungen und { $doses } Insulingaben am Tag.
supplies-glucose-below-for-quarter-hour = Die Glukose lag { $lows }-mal eine Viertelstunde oder länger unter { $low }, { $night }-mal davon nachts, und { $serious }-mal unter { $floor }.
supplies-meter-checks-below = Blutmessungen unter { $low }: { $count }.
supplies-of = { $hits } von { $of }
supplies-with-sensors-data-alert-at = Mit den Sensorwerten wäre an den gesetzten Grenzen bei { $warned } davon ein Alarm gekommen, bei { $announced } mindestens { $notice_minutes } min vor ihrem Beginn.
supplies-before-those-went-below-middle = Vor denen unter { $floor } war der Median der Vorwarnzeit { $minutes } min (schnelle Kohlenhydrate brauchen etwa { $notice_minutes } min).
supplies-without-sensors-data-log-shows = Ohne die Sensorwerte zeigt das Protokoll bei { $seen } davon eine Blutmessung unter { $low } oder dass sie bemerkt wurde.
supplies-at-night = Nachts sind das { $seen }.
supplies-signs-need-another-persons-help = Anzeichen, die Hilfe durch andere brauchen, wurden { $severe }-mal eingetragen.
supplies-what-felt-or-measured-and = Was gespürt oder gemessen und nicht eingetragen wurde, ist in diesen Zahlen nicht enthalten.

## sentences/alerts

alerts-of-2 = { $count } von { $all } Alarmen
alerts-alerts-by-day-day = Alarme am Tag, je Tag
alerts-alerts-by-night-night = Alarme nachts, je Nacht
alerts-lost-signal = kein Wert
alerts-something-logged-within = etwas eingetragen binnen { $minutes } min
alerts-resolved-without-action = ohne Zutun vorbei
alerts-them-at-night-sleep-broken = nachts, ohne Zutun vorbei
alerts-lows-with-alert = Unterzuckerungen mit Alarm
alerts-before-low-began = Unterzuckerungen mit Alarm, bevor sie begannen
alerts-of = { $noticed } von { $lows }
alerts-notice-before-them-middle-one = Median der Vorwarnzeit vor einer Unterzuckerung
alerts-none-to-tell = keine
alerts-sensor-reads-below = Der Sensor misst unter { $floor }, oder die Glukose ist zu niedrig für ihn.
alerts-sensor-reads-below-your-low = Der Sensor misst unter deiner unteren Grenze.
alerts-readings-fall-fast = Die Werte fallen schnell.
alerts-no-reading-comes-from-sensor = Vom Sensor kommt kein Wert.
alerts-sensor-reads-above-your-high = Der Sensor misst über deiner oberen Grenze.
alerts-readings-rise-fast = Die Werte steigen schnell.
alerts-rang-at = Dieser Alarm kam um { $clock }.
alerts-low-repeats = Bei einer Unterzuckerung, die anhält und auf die niemand antwortet, kommt der Alarm alle { $minutes } min wieder, höchstens { $times }-mal.
alerts-you-act-on-highs-at = Du handelst bei etwa { $acts } ({ $count }-mal), Bescheid bekommst du bei { $line }: bei { $at } wären es { $after } Alarme am Tag statt { $before }. Besprich es mit deinem Behandlungsteam.
alerts-high-only-once-has = Käme der Alarm bei hohen Werten erst nach { $minutes } min, wären es { $after } solche Alarme statt { $before } und { $then }-mal umsonst geweckt statt { $woken }. Bei Unterzuckerungen bliebe alles, wie es ist. Besprich es mit deinem Behandlungsteam.
alerts-plan-kept = Alarme ab jetzt: { $now }. Bisher: { $before }.
alerts-plan-day-and-night = am Tag { $day }, nachts { $night }
alerts-plan-below = unter { $low }
alerts-plan-below-and-above = unter { $low } und über { $high }

## sentences/outcomes

outcomes-no-prompt-kept-in-time = Aus dieser Zeit ist keine Antwort aufbewahrt. Jede Antwort, die dir zur Gegenwart gezeigt wird, wird aufbewahrt, damit du hier siehst, was daraus wurde; eine zu einer vergangenen Zeit wird es nicht.
outcomes-prompts-shown-those-said-same = { $prompts ->
    [one] 1 Antwort wurde gegeben.
   *[other] { $prompts } Antworten wurden gegeben; gleiche hintereinander zählen als eine, das sind { $decisions }.
    }
outcomes-holds-never-went-below-within = Von { $of } { $of ->
    [one] Mal
   *[other] Malen
    } Abwarten { $stayed ->
    [one] blieb
   *[other] blieben
    } { $stayed } { $after_minutes } min lang bei { $line } oder darüber { $interval }.
outcomes-chance-low-within-half-hour = Die dabei genannte Wahrscheinlichkeit für eine Unterzuckerung binnen einer halben Stunde war im Mittel { $chance }.
outcomes-those-did-with-lowest-reading = Diese nicht, mit dem tiefsten Wert: { $those }.
outcomes-holds-more-carbohydrate-logged-within = Bei { $of } { $of ->
    [one] weiteren Mal
   *[other] weiteren Malen
    } wurden trotzdem binnen { $within } Kohlenhydrate eingetragen; { $above } lagen binnen 2 h über { $high }. Was Abwarten ergeben hätte, ist nicht bekannt.
outcomes-prompts-to-treat-carbohydrate = Von { $of } { $of ->
    [one] Mal
   *[other] Malen
    } Behandeln wurden bei { $treated } binnen { $within } Kohlenhydrate eingetragen; { $low } { $low ->
    [one] ging
   *[other] gingen
    } unter { $line }, und { $above } lagen binnen 2 h über { $high }.
outcomes-prompts-to-check-meter = Von { $of } { $of ->
    [one] Mal
   *[other] Malen
    } Messen wurde bei { $metered } binnen { $within } gemessen, bei { $low } davon unter { $line }; der Sensor ging bei { $later } darunter.
outcomes-falls-waited = { $of }-mal fiel deine Glukose, beide Verläufe wurden gezeigt, und du hast nichts gegessen: { $low }-mal kam sie in der nächsten Stunde unter { $line }. Die gezeigte Wahrscheinlichkeit dafür war { $waiting }, wenn du wartest, und { $treating }, wenn du behandelst.
outcomes-falls-treated = { $of }-mal hast du dabei Kohlenhydrate genommen: { $low }-mal kam sie in der nächsten Stunde unter { $line }, { $above } waren innerhalb von 2 h über { $high }. Die gezeigte Wahrscheinlichkeit für die Unterzuckerung war { $treating }, wenn du behandelst, und { $waiting }, wenn du wartest.
outcomes-other-choice-not-known = Liegt der Anteil nahe an der gezeigten Wahrscheinlichkeit, kannst du dich auf die Verläufe verlassen; was die andere Wahl gebracht hätte, weiß man nicht.
outcomes-more-not-seen-what-came = Bei { $unseen } davon ist nicht zu sehen, was kam: Werte fehlen, oder die Stunde ist nicht um.
outcomes-none-them-about-fall-can = { $prompts ->
    [one] Sie galt keinem Abfall, der sich bis zum Ende verfolgen lässt.
   *[other] Keine davon galt einem Abfall, der sich bis zum Ende verfolgen lässt.
    }
outcomes-what-done-and-not-logged = Was getan und nicht eingetragen wurde, ist hier nicht zu sehen.
outcomes-95-to = (95 %: { $low } bis { $high } %)
outcomes-of = { $hits } von { $of }

## sentences/bluetooth

bluetooth-field-octets-begins-here-and = hier beginnt ein Feld von { $needs } Bytes, { $has } sind da
bluetooth-octets-left-over = { $extra } Bytes sind übrig
bluetooth-record-says-has-octets-its = der Satz nennt { $said } Bytes, nach seinen Merkern sind es { $needs }
bluetooth-checksum-and-should-be-ask = die Prüfsumme ist { $sent } statt { $computed }; den Satz noch einmal anfordern
bluetooth-no-code-field = { $given } ist kein Wert dieses Feldes
bluetooth-no-such-date-or-time = kein solches Datum, keine solche Uhrzeit
bluetooth-device-does-not-know-date = das Gerät kennt das Datum nicht; seine Uhr stellen
bluetooth-0x-octet = { $name } (0x{ $uuid }), Byte { $octet }: { $why }
bluetooth-device-sent-no-number = das Gerät hat keine Zahl geschickt
bluetooth-amount-outside-what-log-takes = der Wert liegt außerhalb dessen, was ein Protokoll aufnimmt: am Finger messen
bluetooth-sensors-session-stopped = der Sensor ist beendet worden
bluetooth-device-does-not-take-kind = das Gerät nimmt diese Art Sensor oder Teststreifen nicht
bluetooth-device-says-does-not-work = das Gerät meldet eine Störung: nach der Blutmessung richten
bluetooth-too-warm-for-valid-result = es war zu warm für ein gültiges Ergebnis
bluetooth-too-cold-for-valid-result = es war zu kalt für ein gültiges Ergebnis
bluetooth-too-little-blood-or-strip = zu wenig Blut, oder der Streifen saß falsch oder wurde zu früh gezogen: noch einmal messen
bluetooth-devices-clock-not-set-or = die Uhr des Geräts ist nicht gestellt oder geht vielleicht falsch: stellen
bluetooth-time-lies-ahead-phones-clock = die Zeit liegt für die Uhr dieses Telefons in der Zukunft: beide vergleichen
bluetooth-time-lies-outside-years-2000 = die Zeit liegt außerhalb der Jahre 2000 bis 2199: die Uhr des Geräts stellen
bluetooth-control-solution-measured-no-blood = gemessen wurde Kontrolllösung, kein Blut
bluetooth-meter-does-not-say-blood = das Messgerät sagt nicht, dass Blut gemessen wurde
bluetooth-record-holds-no-amount = der Satz enthält keinen Wert
bluetooth-what-came-with-belongs-to = die Angaben dazu gehören zu einer anderen Messung
bluetooth-amount-carbohydrate-nobody-eats = eine Menge Kohlenhydrate, die niemand isst
bluetooth-insulin-in-kilograms-or-litres = Insulin in Kilogramm oder Litern: die Einheiten von Hand eintragen
bluetooth-movement-without-its-time-note = Bewegung ohne Uhrzeit: von Hand eintragen
bluetooth-hba1c-meal-marks-and-remarks = für HbA1c, Mahlzeitenmarken und Angaben zum Befinden hat das Protokoll keinen Platz
bluetooth-not-in-log-2 = Nicht im Protokoll: { $said }.
bluetooth-not-in-log = { $clock }, nicht im Protokoll: { $said }.
bluetooth-devices-battery-low = Die Batterie des Geräts ist schwach.
bluetooth-sensor-asks-to-be-calibrated = Der Sensor möchte kalibriert werden.
bluetooth-device-has-something-to-say = Das Gerät meldet etwas: nachsehen.
bluetooth-clock-showed-time-twice-night = Die Uhr zeigte diese Zeit in jener Nacht zweimal; genommen wurde die erste.
bluetooth-clocks-had-gone-forward-over = Über diese Zeit sprang die Uhr hinweg; die des Messgeräts nicht.
bluetooth-too-low-for-device-to = Für das Gerät zu tief zum Messen: jetzt am Finger messen; im Zweifel und ohne Messgerät behandeln.
bluetooth-too-high-for-device-to = Für das Gerät zu hoch zum Messen: am Finger messen.
bluetooth-not-from-finger-when-glucose = Nicht aus dem Finger: bei schneller Änderung hinkt solches Blut nach.

## sentences/fhir

fhir-no-json-or-file-ends = das ist kein JSON, oder die Datei endet zu früh; FHIR als XML wird nicht gelesen
fhir-json-and-no-fhir-bundle = das ist JSON, aber kein FHIR-Bundle
fhir-about-people-glucose-several-must = es geht um { $count } Personen; Werte mehrerer dürfen nicht in ein Protokoll, also angeben, welche gemeint ist
fhir-person-asked-for-not-in = die angegebene Person kommt darin nicht vor
fhir-one-resource-in-larger-than = eine Ressource darin ist größer als { $most_megabytes } MB, und so groß ist keine, die hier gelesen wird
fhir-not-final = es ist nicht endgültig
fhir-withdrawn-at-source = in der Quelle wurde es zurückgezogen, und dein Protokoll enthält es; nimm es dort zurück, wenn es nie war
fhir-amended-at-source = in der Quelle wurde es geändert, und dein Protokoll enthält, was es vorher sagte; beides bleibt, der niedrigere Wert zählt, also nimm den falschen zurück
fhir-there-no-time = es fehlt die Zeit
fhir-time-not-given-to-minute = die Zeit ist nicht auf die Minute und mit ihrem Abstand zu UTC angegeben
fhir-time-lies-outside-years-2000 = die Zeit liegt außerhalb der Jahre 2000 bis 2199
fhir-time-lies-ahead-devices-clock = die Zeit liegt für die Uhr dieses Geräts in der Zukunft
fhir-there-no-number = es fehlt eine Zahl
fhir-says-less-than-what-could = es sagt weniger als messbar: zu niedrig, ohne Zahl
fhir-says-more-than-what-could = es sagt mehr als messbar: zu hoch, ohne Zahl
fhir-value-outside-what-log-takes = der Wert liegt außerhalb dessen, was ein Protokoll aufnimmt
fhir-unit-not-known-here = die Einheit ist hier unbekannt
fhir-code-asks-for-another-unit = der Code verlangt eine andere Einheit als der Wert hat; was falsch ist, lässt sich nicht wissen
fhir-insulin-neither-rapid-acting-nor = das Insulin ist weder nur schnell noch nur lang wirkend
fhir-insulin-without-code = es kann Insulin sein, und kein ATC-Code sagt, welches; trag es von Hand ein, wenn es genommen wurde
fhir-laboratory = ein Laborwert, als Blutmessung übernommen
fhir-part-missing-or-newer-version = ein Teil fehlt oder stammt aus einer neueren Version
fhir-modifier-not-known-here = es trägt einen Zusatz, der hier nicht bekannt ist und seinen Sinn umkehren kann
fhir-name-stands-twice = ein Name steht zweimal darin; welcher gilt, ist nicht zu erkennen
fhir-log-has-entry-with-another = das Protokoll hat diesen Eintrag mit anderem Inhalt; der bleibt
fhir-would-correct-entry-log-correct = es würde einen Eintrag dieses Protokolls berichtigen; von Hand berichtigen oder die Protokolle vereinen
fhir-contradicts-itself = es widerspricht sich selbst
fhir-entry-left-out = Eintrag { $place }, { $element }: { $why }; ausgelassen
fhir-entry-taken = Eintrag { $place }, { $element }: { $why }
fhir-and = { $entries } und { $figures }.
fhir-not-in = Nicht darin: { $left_out }.
fhir-bundle-carries-what-holds-what = Ein Bundle enthält, was gilt. Berichtigtes und Zurückgenommenes, deine Einstellungen und Gelerntes bleiben im Protokoll.
fhir-files-imported = dass Dateien eingelesen wurden ({ $count })
fhir-entries-taken-back = dass Einträge zurückgenommen wurden ({ $count })
fhir-reviews-figures-too-few-readings = die Zahlen des Rückblicks: zu wenige Werte, oder andere Bereiche als 70 bis 180 mg/dL

## sentences/health

health-unclear = { $count ->
    [one] 1 Wert sagt nicht, ob ein Sensor oder ein Messgerät ihn gemessen hat: als Sensorwert behalten.
   *[other] { $count } Werte sagen nicht, ob ein Sensor oder ein Messgerät sie gemessen hat: als Sensorwerte behalten.
    }
health-left-out = { $count ->
    [one] 1 Wert der Gesundheitsdaten steht nicht im Protokoll: Höhe oder Zeit kann nicht sein, oder er wurde weder im Blut noch im Gewebe gemessen. Miss am Finger.
   *[other] { $count } Werte der Gesundheitsdaten stehen nicht im Protokoll: Höhe oder Zeit kann nicht sein, oder sie wurden weder im Blut noch im Gewebe gemessen. Miss am Finger.
    }

## sentences/merge

merge-nothing-would-change-everything-in = Nichts würde sich ändern: alles darin steht schon in deinem Protokoll.
merge-in-your-log-already-and-2 = Schon in deinem Protokoll, und nicht verdoppelt: { $known }.
merge-other-than-same-sensor-said = Anders, als derselbe Sensor zur selben Zeit sagte: { $differ }. Beide bleiben; der niedrigere gilt.
merge-new-to = Neu: { $parts }, { $first } bis { $last }.
merge-corrects-and-takes-back = Es berichtigt { $corrections } und nimmt { $retractions } zurück.
merge-what-holds-in-your-log = Von dem, was jetzt in deinem Protokoll gilt, würden { $both } nicht mehr gelten; sie bleiben lesbar.
merge-and-more = und { $more } weitere
merge-two-logs-share-too-little = Die beiden Protokolle haben zu wenig gemeinsame Zeit, um an den Werten zu sehen, ob beide deine sind.
merge-at-shared-times-readings-differ = Zu { $differing } von { $compared } gemeinsamen Zeiten weichen die Werte um mehr als { $bound } ab (über { $level }: { $percent }).
merge-and = { $readings } und { $others }
merge-looks-like-somebody-elses-log = Das sieht nach dem Protokoll einer anderen Person aus: zu { $differing } von { $compared } gemeinsamen Zeiten passen die Werte nicht zu deinen. Hinweise aus den Werten zweier Menschen sind gefährlich.
merge-recorded-later-than-devices-clock = Später aufgezeichnet, als es nach der Uhr dieses Geräts ist: { $entries }. Vergleiche die Uhren beider Geräte; gehen beide richtig, hat jemand die Datei verändert.
merge-in-your-log-already-and = Schon in deinem Protokoll, und in diesem mit anderem Inhalt: { $entries }. Ebbstead ändert nie einen Eintrag, also hat jemand die Datei verändert.
merge-would-take-back-much-your = Es würde viel aus deinem Protokoll zurücknehmen: { $readings }. Richtig ist das nur, wenn du sie auf dem anderen Gerät selbst zurückgenommen hast, etwa eine versehentlich übernommene Datei.
merge-brought-back-with-your-settings = Zurückgeholt: { $all }, mit deinen Einstellungen und dem Gelernten.
merge-taken-in = Übernommen: { $new }.
merge-settings-and-what-learnt-stay = Einstellungen und Gelerntes bleiben hier, wie sie sind; lass neu lernen, um aus allem zu lernen.
merge-saved = Gerettet: { $both }.
merge-your-settings-among = Deine Einstellungen sind dabei.
merge-settings-found-look-whether-they = Einstellungen wurden gefunden; sieh nach, ob es die sind, die du hattest.
merge-no-settings-found-set-your = Einstellungen wurden keine gefunden: stell Einheit, Grenzen und Faktoren neu ein.
merge-not-readable-and-lost-perhaps = Nicht lesbar, und verloren: { $rows }, vielleicht weitere daneben.
merge-perhaps-under-wrong-name-taking = Vielleicht unter falschem Namen: { $sources }. Das Protokoll eines anderen Geräts zu übernehmen, könnte Werte von dort verdoppeln.

## sentences/review

review-hours-readings = { $need ->
    [one] Stunde mit Werten
   *[other] Stunden mit Werten
    }
review-days-worth-readings = { $need ->
    [one] vollen Tag mit Werten
   *[other] vollen Tagen mit Werten
    }
review-days-covered-by-70 = { $need ->
    [one] zu 70 % abgedeckten Tag
   *[other] zu 70 % abgedeckten Tagen
    }
review-hours-with-readings-day-before = { $need ->
    [one] Stunde mit Werten am Vortag
   *[other] Stunden mit Werten am Vortag
    }
review-days-with-readings-at-hour = { $need ->
    [one] Tag mit Werten zu dieser Stunde
   *[other] Tagen mit Werten zu dieser Stunde
    }
review-meter-checks-beside-readings = { $need ->
    [one] Blutmessung neben Sensorwerten
   *[other] Blutmessungen neben Sensorwerten
    }
review-not-enough-data-have-need = zu wenig Daten: { $have } von { $need } nötigen { $of }
review-day = { $length } am Tag
review-in-range-to = Im Zielbereich, { $low } bis { $high }
review-below-2 = Unter { $low }
review-below = davon unter { $floor }
review-above-2 = Über { $high }
review-above = davon über { $very_high }
review-consensus-aim-over = Konsensziel über { $percent } %
review-consensus-aim-under = Konsensziel unter { $percent } %
review-reached = erreicht
review-within-your-own-lines-to = Zwischen deinen eigenen Grenzen, { $low } bis { $high }
review-below-above = { $below } % darunter, { $above } % darüber
review-small = klein
review-moderate = mittel
review-high = hoch
review-mean = Mittelwert
review-glucose-management-indicator-gmi = Glukose-Management-Indikator (GMI)
review-mmol-mol-laboratorys-a1c-can = { $gmi_mmol_mol } mmol/mol; das HbA1c aus dem Labor kann abweichen
review-mmol-mol-no-a1c-in-pregnancy = { $gmi_mmol_mol } mmol/mol; in der Schwangerschaft kein verlässlicher Ersatz für das HbA1c aus dem Labor
review-standard-deviation = Standardabweichung
review-coefficient-variation = Variationskoeffizient
review-stable-up-to-consensus = stabil bis { $stable_cv_percent } % (Konsens)
review-low-blood-glucose-index-lbgi = Index niedriger Glukose (LBGI)
review-high-blood-glucose-index-hbgi = Index hoher Glukose (HBGI)
review-bands-made-for-meter-checks = Stufen für Blutmessungen gemacht
review-glycemia-risk-index-gri = Glykämie-Risiko-Index (GRI)
review-0-best-100-worst-zones = 0 am besten, 100 am schlechtesten; Zonen A bis E
review-swings-within-day-mage = Ausschläge am Tag (MAGE)
review-differences-from-day-to-day = Unterschiede von Tag zu Tag (MODD)
review-j-index = J-Index
review-to-readings-on-dates-cover = { $from } bis { $until }: { $readings } { $readings ->
    [one] Wert
   *[other] Werte
    } an { $dates } { $dates ->
    [one] Tag
   *[other] Tagen
    } { $readings ->
    [one] deckt
   *[other] decken
    } { $share } % { $whole ->
    [1] des Tages
   *[other] von { $days } Tagen
    } ab. Die längste Lücke ist { $gap }.
review-gap-hours = { $hours } h
review-h-in-which-sensor-pressed = { $hours } h, in denen der Sensor gedrückt war, sind ausgelassen.
review-too-low-or-too-high = { $readings } zu tief oder zu hoch zum Messen: als unter oder über dem Bereich gezählt; Mittelwert, Standardabweichung und GMI rechnen mit der Grenze.
review-two-sensors-worn-at-once = Zwei Sensoren wurden zugleich getragen: { $count } { $count ->
    [one] Wert von { $name } ist
   *[other] Werte von { $name } sind
    } hier nicht verwendet.
review-your-clock-put-on-or = Deine Uhr wurde { $changes } umgestellt (Reise oder Sommerzeit); Stunden sind die, die sie zeigte.
review-consensus-judges-by-14-days = Der Konsens urteilt nach 14 Tagen mit 70 % Abdeckung; das ist weniger, also nur ein Eindruck.
review-you-in-range-time-below = Du warst { $in_range } % der Zeit im Zielbereich, { $below } % darunter, { $above } % darüber.
review-much-like-time-before = Das ist ähnlich wie in der Zeit davor.
review-points-more-in-range-than = Das sind { $size } Punkte mehr im Zielbereich als in der Zeit davor.
review-points-less-in-range-than = Das sind { $size } Punkte weniger im Zielbereich als in der Zeit davor.
review-above-you-longest-lasted-h = Über { $line } warst du { $count }; am längsten { $hours } h.
review-readings-cover-time = Werte decken { $share } % der Zeit ab.
review-no-low-lasted-quarter-hour = Keine Unterzuckerung dauerte eine Viertelstunde.
review-readings-too-far-apart = die meisten Werte haben keinen anderen binnen 20 Minuten
review-no-swing = kein Ausschlag, der größer ist als die Standardabweichung des Tages
review-lows-not-known = Unterzuckerungen, die anhielten, lassen sich nicht zählen: { $why }.
review-you-low-them-at-night = Du hattest { $count } eine Unterzuckerung, { $at_night }-mal nachts; { $serious }-mal blieb sie eine Viertelstunde unter { $floor }. Am längsten dauerte eine { $length } ({ $when }).
review-once = einmal
review-twice = zweimal
review-times = { $count }-mal
review-to = bis { $furthest }
review-end-not-seen = , Ende nicht gesehen
review-min-before = { $what } { $minutes } min davor
review-rapid-insulin = schnelles Insulin
review-meal = Mahlzeit
review-rescue-carbohydrate = schnelle Kohlenhydrate
review-movement = Bewegung
review-there-too-little-yet-to = Für die Suche nach Mustern ist noch zu wenig da.
review-pattern-none = Keine Stunde, keine Mahlzeit, keine Bewegung, kein Wochentag und kein Sensortag sticht stärker heraus, als der Zufall es brächte ({ $looks } Vergleiche, als eine Frage gezählt).
review-pattern-how-looked = { $looks } Vergleiche zählen als eine Frage (Permutationstest): Von Aufzeichnungen ohne jedes Muster zeigt hier höchstens 1 von 20 eines. Genannt sind die Stunden, in denen am meisten zu sehen war. Ein Muster ist ein Grund, die Tage anzusehen, kein Beweis.
review-pattern-sure = Ohne Muster wären es etwa { $expected }; der Zufall allein bringt etwas so Deutliches in { $chance } der Aufzeichnungen. Diese Tage ansehen: { $dates }.
review-pattern-low-nights = In { $hits } von { $of } Nächten hattest du zwischen { $from } und { $until } Uhr eine Unterzuckerung.
review-pattern-low-days = An { $hits } von { $of } Tagen hattest du zwischen { $from } und { $until } Uhr eine Unterzuckerung.
review-pattern-high-nights = In { $hits } von { $of } Nächten warst du zwischen { $from } und { $until } Uhr hoch.
review-pattern-high-days = An { $hits } von { $of } Tagen warst du zwischen { $from } und { $until } Uhr hoch.
review-pattern-low-worst = Davon { $serious }-mal unter { $floor }; am längsten { $minutes } min.
review-pattern-low-movement = An { $hits } von { $of } Tagen mit Bewegung begann dabei oder in den 12 h danach eine Unterzuckerung.
review-pattern-low-first-day = An { $hits } von { $of } ersten Tagen eines Sensors begann eine Unterzuckerung.
review-pattern-high-first-day = An { $hits } von { $of } ersten Tagen eines Sensors war über ein Viertel der Zeit hoch.
review-pattern-low-last-day = An { $hits } von { $of } letzten Tagen eines Sensors begann eine Unterzuckerung.
review-pattern-high-last-day = An { $hits } von { $of } letzten Tagen eines Sensors war über ein Viertel der Zeit hoch.
review-pattern-low-weekends = An { $hits } von { $of } Wochenendtagen begann eine Unterzuckerung.
review-pattern-high-weekends = An { $hits } von { $of } Wochenendtagen war über ein Viertel der Zeit hoch.
review-pattern-low-workdays = An { $hits } von { $of } Tagen von Montag bis Freitag begann eine Unterzuckerung.
review-pattern-high-workdays = An { $hits } von { $of } Tagen von Montag bis Freitag war über ein Viertel der Zeit hoch.
review-pattern-low-weekday = An { $hits } von { $of } { $weekdays } begann eine Unterzuckerung.
review-pattern-high-weekday = An { $hits } von { $of } { $weekdays } war über ein Viertel der Zeit hoch.
review-pattern-high-meals = Nach { $hits } von { $of } { $meals } begann binnen 3 h ein hoher Wert.
review-pattern-low-meals = Nach { $hits } von { $of } { $meals } begann binnen 4 h eine Unterzuckerung.
review-pattern-rebound = Nach { $hits } von { $of } behandelten Unterzuckerungen begann binnen 2 h ein hoher Wert.
review-pattern-ask-night = Frag dein Behandlungsteam, was dahinter stecken kann: das Insulin, das in diesen Stunden wirkt, spätes Essen, Bewegung oder Alkohol am Tag davor.
review-pattern-ask-lows = Frag dein Behandlungsteam, was dahinter stecken kann: das Insulin, das in diesen Stunden wirkt, die Mahlzeit davor oder Bewegung.
review-pattern-ask-highs = Frag dein Behandlungsteam, was dahinter stecken kann: was davor gegessen wird, oder das Insulin, das in diesen Stunden wirkt.
review-pattern-ask-movement = Frag dein Behandlungsteam, wie du dich auf Bewegung und die Nacht danach vorbereiten kannst.
review-pattern-ask-sensor = Vielleicht irrt dann der Sensor selbst: An solchen Tagen mit dem Messgerät prüfen, und dem Behandlungsteam zeigen.
review-pattern-ask-weekday = Such, was an diesen Tagen anders ist, und frag dein Behandlungsteam, wie du dafür planen kannst.
review-pattern-ask-meals = Frag dein Behandlungsteam nach diesen Mahlzeiten: was gegessen wird, wie es gezählt wird, und wann dafür gespritzt wird.
review-pattern-ask-rebound = Frag dein Behandlungsteam, ob die Menge Kohlenhydrate passt, die du gegen eine Unterzuckerung nimmst.
review-pattern-mondays = Montagen
review-pattern-tuesdays = Dienstagen
review-pattern-wednesdays = Mittwochen
review-pattern-thursdays = Donnerstagen
review-pattern-fridays = Freitagen
review-pattern-saturdays = Samstagen
review-pattern-sundays = Sonntagen
review-pattern-morning-meals = Mahlzeiten am Morgen
review-pattern-midday-meals = Mahlzeiten am Mittag
review-pattern-evening-meals = Mahlzeiten am Abend
review-pattern-night-meals = Mahlzeiten in der Nacht

## sentences/sealed

sealed-sealed-and-read-back-to = Versiegelt und zurückgelesen: { $both }, { $first } bis { $last }; { $size } MB. Nur die Passphrase öffnet es, und eine vergessene kann niemand wiederherstellen.

## sentences/sensor

sensor-warming-up = läuft sich ein
sensor-in-its-first-day-unreliable = am ersten Tag: unzuverlässig, öfter am Finger messen
sensor-worn = in Gebrauch
sensor-days-left = noch { $days } { $days ->
    [one] Tag
   *[other] Tage
    } von { $rated }
sensor-worn-past-its-rated-length = länger getragen als vorgesehen: unzuverlässig, öfter am Finger messen
sensor-ended = beendet
sensor-lot = Charge
sensor-days = { $from }{ $site }: { $days } Tage, { $stage }{ $faults }
sensor-in-use = in Gebrauch
sensor-let-rest = , noch ruhen lassen
sensor-rested-days = { $days } { $days ->
    [one] Tag
   *[other] Tage
    } ausgeruht{ $short }
sensor-sensors = { $uses } { $uses ->
    [one] Sensor
   *[other] Sensoren
    }
sensor-failed = { $name }: { $rest }; { $sensors }, { $failures } davon mit Fehler
sensor-longest-rested = Am längsten ausgeruht: { $name }.
sensor-none-has-rested-days-site = Keine hat { $rest_days } Tage geruht; eine bisher nicht genutzte wäre schonender für die Haut.
sensor-sites-outside-sensors-labelling-for = Über Stellen, für die der Sensor nicht zugelassen ist, entscheidest du mit deinem Behandlungsteam.
sensor-worn-beside = { $name }, daneben getragen: { $agreement }
sensor-newest-alone = nur der neueste Sensor: { $agreement }
sensor-95-to-2 = { $value } { $unit } (95 %: { $low } bis { $high })
sensor-checks-beside-readings-differences-sensor = { $pairs } Messungen neben Werten; Unterschiede sind Sensor minus Messgerät
sensor-on-average = im Mittel
sensor-with-sensors-lag-allowed-for = den Nachlauf des Sensors eingerechnet
sensor-within-or = innerhalb { $mg_dl } oder { $limit } %: { $share }
sensor-error-grid = Fehlergitter nach { $name }
sensor-meter-low = Messgerät niedrig
sensor-meter-in-range = Messgerät im Zielbereich
sensor-meter-high = Messgerät hoch
sensor-looking-back-with-sensors-delay = im Rückblick, den Nachlauf aus den Werten herausgerechnet ({ $pairs } Messungen): { $value } { $unit } (95 %: { $low } bis { $high }); { $mard }
sensor-mean-absolute-relative-difference-95 = mittlere absolute relative Abweichung { $value } % (95 %: { $low } bis { $high })
sensor-95-to = { $hits } von { $of } (95 %: { $low } bis { $high } %)
sensor-above = { $size } über
sensor-below = { $size } unter
sensor-not-to-be-judged-steady = Nicht zu beurteilen: { $have } von { $need } nötigen Messungen in Ruhe aus den letzten { $hours } Stunden, { $minutes } Minuten auseinander. Eine allein reicht nie.
sensor-no-need-steady-checks-do = Nicht nötig: { $pairs } Messungen in Ruhe zeigen den Sensor nicht durchweg um mehr als { $mg_dl } oder { $limit } % daneben.
sensor-sensor-reads-meter-but-now = Der Sensor liegt { $off } dem Messgerät, aber jetzt ist kein Moment zum Kalibrieren: { $why }.
sensor-sensor-reads-meter-in-steady = Der Sensor liegt bei { $pairs } Messungen in Ruhe { $off } dem Messgerät, und du bist jetzt in Ruhe. Wenn dein Sensor sich kalibrieren lässt, folge seiner Anleitung, mit sauberen, trockenen Händen.
sensor-sensor-in-its-first-day = der Sensor ist am ersten Tag
sensor-sensor-past-its-rated-length = der Sensor wird länger getragen als vorgesehen
sensor-fault-noted-sensor-which-calibrating = zu diesem Sensor ist ein Fehler eingetragen, den Kalibrieren nicht behebt
sensor-sensor-just-pressed = der Sensor war eben gedrückt
sensor-glucose-moving = die Glukose bewegt sich
sensor-there-too-few-readings-just = gerade gibt es zu wenige Werte
sensor-you-ate-in-last-hours = du hast in den letzten { $hours } Stunden gegessen
sensor-you-took-rapid-insulin-in = du hast in den letzten { $hours } Stunden schnelles Insulin genommen
sensor-no-readings-for-min = { $at }  keine Werte für { $length }
sensor-no-readings-since = { $at }  seitdem kein Wert, { $span } lang
sensor-from-to-within-min = { $at }  von { $from } auf { $to } in { $minutes } min
sensor-pressed-for-min = { $at }  gedrückt für { $length }

## sentences/table

table-to = { $both }, { $first } bis { $last }.
table-left-out-import-taken-back = Nicht dabei ist, was nur mit zurückgenommenen Dateien kam: { $entries }.
table-no-time-with-its-offset = es ist keine Zeit mit Abstand zu UTC zu lesen
table-kind-unknown-or-something-kind = die Art ist unbekannt, oder etwas zu dieser Art fehlt
table-would-change-entry-put-right = sie würde einen Eintrag ändern; berichtige ihn stattdessen im Protokoll
table-such-entry-cannot-be = einen solchen Eintrag kann es nicht geben
table-not-readable-as-text = sie ist nicht als Text lesbar
table-line-left-out = Zeile { $number }: { $why }; ausgelassen

## sentences

log-anybody-who-has-file-can = Wer diese Datei hat, kann sie lesen. Gib sie nur denen, denen du es auch sagen würdest.

## pages/alerts

page-alerts-your-lines = deine Grenzen
page-alerts-as-tried = wie erprobt
page-alerts-alerts-replayed = Alarme, nachgespielt
page-alerts-proposals = Vorschläge
page-alerts-cannot-be-replayed = Welche Alarme es zu diesen Werten gegeben hätte, lässt sich nicht sagen: { $why }.
page-alerts-below-alert-in-any-case = Unter { $floor } kommt in jedem Fall ein Alarm, und er wiederholt sich. Hält eine Unterzuckerung eine Viertelstunde nach deiner Antwort noch an, kommt er wieder. Was getan, aber nicht eingetragen wurde, ist nicht zu sehen.

## pages/outcomes

page-outcomes-what-came-prompts-days = Was aus den Antworten von { $days } { $days ->
    [one] Tag
   *[other] Tagen
    } wurde

## pages/learn

page-learn-no-forecast-could-be-compared = Noch ließ sich keine Vorhersage mit dem vergleichen, was kam: Dazu braucht es einige Stunden ohne Lücke.
page-learn-readings-stay-as-they-but = Die Werte bleiben, wie sie sind, aber aus diesen Zeiten wird nicht gelernt. War es doch eine echte Unterzuckerung, nimm den Vermerk im Protokoll zurück. Er kommt nicht wieder.
page-learn-learnt = Gelernt { $when }
page-learn-sensor-probably-pressed-and-log = Der Sensor war wohl gedrückt; das steht jetzt im Protokoll
page-learn-every-prompt-uses-from-now = Jede Antwort benutzt das ab jetzt. Lerne etwa jede Woche neu, und nach einer neuen Art von Sensor. Schutzregeln, Grenzen und Faktoren werden nie gelernt: Die gehören dir und deinem Behandlungsteam.

## pages/sensor

page-sensor-no-insertion-in-log-yet = Noch ist kein Setzen eingetragen: Trag ein, wann und wo du einen Sensor setzt.
page-sensor-sensors = Sensoren
page-sensor-sites-longest-rested-first = Stellen, die am längsten ausgeruhte zuerst
page-sensor-sensor-beside-meter = Sensor neben Messgerät
page-sensor-calibration = Kalibrierung
page-sensor-seen-on-newest-sensor = Am neuesten Sensor aufgefallen

## pages/supplies

page-supplies-supplies = Vorräte
page-supplies-nothing-noted-supplies-yet-count = Zu Vorräten ist noch nichts eingetragen. Zähl einmal, was da ist.
page-supplies-prices-you-noted = Preise, die du eingetragen hast
page-supplies-facts-for-statement-need = Tatsachen für einen Brief, warum du den Sensor brauchst
page-supplies-letter-yours-to-write-your = Den Brief schreibst du; dein Behandlungsteam weiß, was deine Kasse verlangt.

## pages/report

page-report-glucose-review = Glukose-Rückblick
page-report-in-short = Kurz gesagt
page-report-average-day-shared-out = Ein mittlerer Tag, aufgeteilt
page-report-hour-by-hour = Stunde für Stunde
page-report-level-spread-and-risk = Lage, Streuung und Risiko
page-report-day-by-day = Tag für Tag
page-report-last-days = { $days ->
    [one] Der letzte Tag mit Werten.
   *[other] Die letzten { $days } Tage mit Werten.
    }
page-report-dash-where-too-little = Ein Strich: Werte decken weniger als { $share } % des Tages ab.
page-report-covered = abgedeckt
page-report-lows-quarter-hour-and-more = Unterzuckerungen ab einer Viertelstunde
page-report-patterns = Muster
page-report-no-medical-device-and-names = Dies ist kein Medizinprodukt und nennt keine Dosis. Die Zahlen stammen von einem Sensor, der die Flüssigkeit unter der Haut misst und irren kann. Ziele sind die des Konsenses (Battelino et al. 2019); die mit deinem Behandlungsteam vereinbarten gehen vor. Ändere die Behandlung nur mit deinem Behandlungsteam.
page-report-written = Geschrieben { $written }.
page-report-none = Keine.
page-report-and-earlier-ones = und { $more } frühere
page-report-from-left-filled-very-low = Von links: gefüllt sehr niedrig, eng gestrichelt niedrig, getönt im Zielbereich, weit gestrichelt hoch, gekreuzt sehr hoch.
page-report-no-hour-has-readings-on = Noch keine Stunde hat Werte an fünf Tagen.
page-report-in-by-your-own-clock = In { $unit }, nach deiner Uhr. Jeder Balken umfasst die mittleren acht von zehn Werten; sein dicker Teil ist die mittlere Hälfte, die Kerbe der Median. Gestrichelt: sehr niedrig und deine eigenen Grenzen.
page-report-logged-by-hour = Unter den Balken: Kohlenhydrate und schnelles Insulin, wie eingetragen, je Stunde eines mittleren Tages; die Zahl neben jeder Reihe ist ihr höchster Balken. Was nicht eingetragen wurde, fehlt darin.
page-report-carbohydrate-a-day = Kohlenhydrate, g je Tag
page-report-rapid-insulin-a-day = Schnelles Insulin, Einheiten je Tag
page-report-grams = g
page-report-units = Einheiten
page-report-hour = Stunde
page-report-days = Tage
page-report-no-readings = Keine Werte.
page-report-each-dates-lows-and-highs = Tiefe und hohe Werte jedes Tages; die Anteile stehen in der Tabelle darunter
page-report-line-where-there-readings-filled = Eine Linie, wo Werte sind; gefüllte Blöcke hängen darunter, solange du unter deiner unteren Grenze warst, Striche stehen darüber, solange über der oberen; rechts der Anteil dazwischen.
page-report-same-in-numbers = Dasselbe in Zahlen
page-report-date = Tag
page-report-between-lines = Zwischen den Grenzen
page-report-below = Darunter
page-report-above = Darüber

## pages/review

page-review-review = Rückblick
page-review-aims-consensus-battelino-et-al = Die Ziele sind die des Konsenses (Battelino et al. 2019); die mit deinem Behandlungsteam vereinbarten gehen vor, und die Behandlung wird nur mit ihm geändert.
page-review-hour-by-hour-in = Stunde für Stunde, in { $unit }
page-review-in-short = Kurz gesagt
page-review-time-in-range = Zeit im Zielbereich
page-review-level-spread-and-risk = Lage, Streuung und Risiko
page-review-lows-quarter-hour-and-more = Unterzuckerungen ab einer Viertelstunde
page-review-patterns = Muster
page-review-1-in-10-below = 1 von 10 darunter
page-review-1-in-4-below = 1 von 4 darunter
page-review-half-below = Hälfte darunter
page-review-3-in-4-below = 3 von 4 darunter
page-review-9-in-10-below = 9 von 10 darunter

## chart

chart-glucose-by-hour-your-clock = Glukose nach der Stunde deiner Uhr, { $hours } von 24 Stunden. Die Mitte liegt am tiefsten um { $low_at } mit { $low } und am höchsten um { $high_at } mit { $high }.
chart-each-post-holds-eight-readings = Jeder Balken umfasst die mittleren acht von zehn Werten; sein dicker Teil ist die mittlere Hälfte, die Kerbe der Median.

## pages/sheet

page-sheet-not-noted = nicht eingetragen
page-sheet-record-one-glucose-sensor = Aufzeichnung zu einem Glukosesensor
page-sheet-put-in = Gesetzt
page-sheet-taken-off = Entfernt
page-sheet-followed-by-next-sensor = Abgelöst vom nächsten Sensor
page-sheet-still-worn = Wird noch getragen
page-sheet-worn-for = Tragedauer
page-sheet-site = Stelle
page-sheet-lot = Charge
page-sheet-rated-for = Vorgesehen für
page-sheet-readings = Werte im Protokoll
page-sheet-readings-cover = { $readings }, { $share } % der Zeit seit dem ersten
page-sheet-no-readings = keine
page-sheet-days = Tage
page-sheet-so-many-days = { $days } { $count ->
    [one] Tag
   *[other] Tage
    }
page-sheet-what-seen = Was auffiel
page-sheet-nothing = nichts
page-sheet-meter-beside-sensor = Messgerät neben Sensor
page-sheet-movement-unknown = Bewegung unbekannt
page-sheet-meter = Messgerät
page-sheet-sensor = Sensor
page-sheet-earlier-ones = { $count } frühere
page-sheet-mean-absolute-relative-difference = Mittlere absolute relative Abweichung
page-sheet-to = bis
page-sheet-times-wearers-own-clock-sensor = Zeiten nach der eigenen Uhr. Ein Sensor misst die Flüssigkeit unter der Haut, Minuten hinter dem Blut; Abweichungen wie abgelesen.
page-sheet-written = Geschrieben

## words

words-not-table-ebbstead-wrote = keine Tabelle, die Ebbstead geschrieben hat
refusal-is-a-log = das ist ein Protokoll und keine Datei zum Einlesen: füge es mit merge hinzu oder auf der Seite „{ $page }“
refusal-is-sealed = das ist ein versiegeltes Protokoll: öffne es mit unseal und seiner Passphrase oder auf der Seite „{ $page }“

## terminal/commands/add

terminal-add-noted = eingetragen
terminal-add-corrected = berichtigt
terminal-add-prompt-is-not-corrected = das ist eine Antwort, die gezeigt wurde, und sie bleibt; trag ein, was du festhalten willst, oder nimm die Antwort mit undo und seinem Zeichen zurück
terminal-add-sleep-has-its-times = Schlaf hat seine Zeiten schon, von und bis; lass --at und --ago weg
terminal-add-ago = --ago muss { $low } bis { $high } Minuten sein, nicht { $given }; was länger her ist, sagt --at
terminal-add-and-its-correction = und die Berichtigung
terminal-add-there-nothing-to-undo = es gibt nichts rückgängig zu machen
terminal-add-taken-back = zurückgenommen
terminal-add-no-entry-marked-ebbstead-log = kein Eintrag trägt die Marke { $wanted }; `ebbstead log` zeigt die Marken
terminal-add-entries-marked-give-whole-identity = { $many } Einträge tragen die Marke { $wanted }; gib die ganze Kennung des gemeinten an
terminal-add-no-date-write-yyyy-mm = { $text } ist kein Datum; schreib JJJJ-MM-TT
terminal-add-price-takes-two = --price nimmt zwei

## terminal/commands/check

terminal-check-shown-not-kept-for-ebbstead = dass dies gezeigt wurde, ist für `ebbstead outcomes` nicht festgehalten: { $error }
terminal-check-what-learnt-cannot-be-read = was gelernt wurde, lässt sich nicht lesen; es gelten die üblichen Größen: { $error }
terminal-check-and-then = Und dann
terminal-check-kept-in-log = ins Protokoll eingetragen: { $text }
terminal-check-i-checked-with-meter = Ich habe am Finger gemessen
terminal-check-ebbstead-wake-meter-amount = ebbstead wake --meter WERT
terminal-check-i-measured-ketones = Ich habe Ketone gemessen
terminal-check-ebbstead-add-ketones-amount = ebbstead add ketones WERT, und danach ebbstead wake
terminal-check-i-treated = Ich habe einen Unterzucker behandelt
terminal-check-ebbstead-add-carbs-grams-rescue = ebbstead add carbs GRAMM --rescue
terminal-check-i-rolled-off-sensor = Ich habe mich weggerollt
terminal-check-ebbstead-add-sensor-rolled-off = ebbstead add sensor rolled-off, und in 5 Minuten ebbstead wake

## terminal/commands/import

import-table-ebbstead-wrote-could-be = Eine Tabelle von Ebbstead: { $taken } zum Übernehmen. Nichts wurde geschrieben.
import-in-log-already = { $new }; schon im Protokoll: { $known }.
import-not-one-row-could-be = { $file }: keine einzige Zeile ließ sich übernehmen
import-could-be-taken-to-nothing = { $taken } zum Übernehmen, { $first } bis { $last }. Nichts wurde geschrieben.
import-to-in-log-already = { $new }, { $first } bis { $last }; schon im Protokoll: { $known }.
import-nobody-named = niemand genannt
import-they-came-from-log = Sie stammen aus diesem Protokoll.
import-they-about-if-not-you-2 = Es geht um: { $about }. Bist du das nicht, nimm sie mit undo zurück.
import-they-about-if-not-you = Es geht um: { $about }. Bist du das nicht, lies sie nicht ein.
import-other-kinds = Von anderer Art
import-contradicts = Zur selben Zeit ein anderer Wert als einer im Protokoll: { $readings }. Beide bleiben, der niedrigere zählt.
import-moments-apart = Werte, die einen anderen desselben Sensors kurz davor wiederholen: { $readings }. Dieselben Werte kamen zweimal, mit Zeiten, die um Sekunden abweichen. Alle bleiben im Protokoll, Kennzahlen zählen jeden einmal. Kamen sie mit dieser Datei, lässt sie sich mit undo zurücknehmen.
import-and-more = und { $more } weitere
import-not-one-entry-could-be = { $file }: kein einziger Eintrag ließ sich übernehmen
import-mostly-every-minutes = , meist alle { $minutes } Minuten
import-mostly-every-minute = , meist jede Minute
import-time-from-readings-from-in = Zeit aus { $time_column }, Werte aus { $glucose_column } in { $unit }{ $spacing }.
import-not-taken-whatever-they-hold = Nicht übernommen, was auch immer darin steht: { $unused }.
import-too-low-or-too-high = Zu tief oder zu hoch zum Messen, als solche übernommen
import-left-out = Ausgelassen
import-same-as-earlier-one = Wie eine frühere
import-without-reading = Ohne Wert
terminal-import-and-more-findings-path-writes = { $more }; --findings PFAD schreibt alle in eine Datei

## terminal/commands/learn

terminal-learn-nothing-has-been-learnt-from = Aus diesem Protokoll wurde noch nichts gelernt. Beginnen mit: ebbstead learn
terminal-learn-going-through-last-days-readings = die letzten { $days } Tage mit Werten werden durchgesehen; das dauert einige Sekunden
terminal-learn-learnt = Gelernt { $when }
terminal-learn-no-forecast-could-be-compared = Noch ließ sich keine Vorhersage mit dem vergleichen, was kam: Dazu braucht es einige Stunden ohne Lücke.
terminal-learn-sensor-probably-pressed-and-log = Der Sensor war wohl gedrückt; das steht jetzt im Protokoll
terminal-learn-readings-stay-as-they-but = Die Werte bleiben, wie sie sind, aber aus diesen Zeiten wird nicht gelernt. War es doch eine echte Unterzuckerung, nimm den Vermerk zurück mit: ebbstead undo { $mark }. Er kommt nicht wieder.
terminal-learn-ebbstead-check-and-wake-use = ebbstead check und wake benutzen das ab jetzt. Lerne etwa jede Woche neu, und nach einer neuen Art von Sensor. Schutzregeln, Grenzen und Faktoren werden nie gelernt: Die gehören dir und deinem Behandlungsteam.

## terminal/commands/list

terminal-list-no-damage-sensor-readings-other = { $display }: kein Schaden. { $readings } { $readings ->
    [one] Sensorwert
   *[other] Sensorwerte
    }, { $others } { $others ->
    [one] anderer Eintrag
   *[other] andere Einträge
    }.
terminal-list-sensor-readings-to = { $amounts } { $amounts ->
    [one] Sensorwert
   *[other] Sensorwerte
    }, { $low } bis { $high }
terminal-list-corrects = , berichtigt [{ $tail }]
terminal-list-no-longer-holds = (gilt nicht mehr)
terminal-list-nothing-in-log-from-to = Von { $from } bis { $until } steht nichts im Protokoll.
terminal-list-nothing-brought-in-from-files = Aus Dateien wurde nichts übernommen.
terminal-list-taken-back = (zurückgenommen)

## terminal/commands/smooth

terminal-smooth-not-before = { $from } liegt nicht vor { $until }
terminal-smooth-log-has-no-reading-and = Von { $from } bis { $until } stehen keine Werte und keine Blutmessungen im Protokoll.
terminal-smooth-blood-glucose-as-probably-to = Blutzucker, wie er wohl war, { $from } bis { $until }
terminal-smooth-worked-out-from-what-came = Errechnet aus dem, was davor und danach kam, Blutmessungen eingeschlossen. Nur für den Rückblick: Was jetzt zu tun ist, sagt ebbstead check.
terminal-smooth-seen-what-sensor-read-or = Gesehen: was der Sensor las, oder M und was eine Blutmessung ergab, in { $unit }. Blut: das Wahrscheinlichste, und wo es neunmal von zehn lag.
terminal-smooth-drawn-blood-nine-in-ten = Gezeichnet: { $blood } Blut, { $band } neun von zehn, { $reading } Sensor, { $meter } Blutmessung.
terminal-smooth-readings-in-brackets-left-out = Werte in Klammern blieben außer Acht: Der Sensor war gedrückt.
terminal-smooth-time = Zeit
terminal-smooth-seen = gesehen
terminal-smooth-blood-probably = Blut, wohl

## terminal/commands/recover

terminal-recover-damaged-log-only-read-and = Das Protokoll wurde nur gelesen und bleibt: { $old }. Sieh das neue mit --log { $new } durch. Um damit weiterzumachen, verschieb die alte Datei und die daneben, die mit ihrem Namen beginnen, an einen anderen Ort; dann leg die neue an ihren Platz. Sieh Einstellungen und alles andere durch, bevor du dich darauf verlässt.

## terminal/commands/merge

terminal-merge-against = Dagegen spricht
terminal-merge-nothing-taken-in-if-you = nichts wurde übernommen; wenn du weißt, warum, und es trotzdem willst, gib --force an
terminal-merge-nothing-written-add-apply = Nichts wurde geschrieben. Um es zu übernehmen, gib --apply{ $force } an.

## terminal/commands/reliability

terminal-reliability-chances-falling-below-within-30 = Wahrscheinlichkeiten, binnen 30 Minuten unter { $line } zu fallen
terminal-reliability-each-chance-stated-before-its = Jede Wahrscheinlichkeit wurde genannt, bevor ihr Ausgang bekannt war, während Werte über der Grenze fielen, bis { $until }. Im Abstand von fünf Minuten sehen sie fast dieselbe halbe Stunde, darum zählen sechs wie eine. Vielleicht hast du gehandelt: Eine Unterzuckerung, der du zuvorkamst, zählt als nicht gekommen.
terminal-reliability-what-said-what-came-where = { $said } was gesagt wurde, { $came } was kam, { $between } wo es sich neunmal von zehn einpendeln würde. Ein Strich: zu wenige.
terminal-reliability-said = gesagt
terminal-reliability-times = so oft
terminal-reliability-came = kam

## terminal/commands/replay

terminal-replay-rows-run-backwards = Die Zeilen laufen rückwärts, die neueste zuerst: Was zu ihnen steht, sagt nichts. Dreh die Datei um, die älteste Zeile zuerst.
terminal-replay-line-column-cannot-be-used = Zeile { $line }, Spalte { $column } ({ $name }): { $given } ist nicht zu gebrauchen; der Rest der Zeile zählt
terminal-replay-time = Zeit
terminal-replay-reading-movement = Wert, Bewegung
terminal-replay-low-in-30-min = tief in 30 min
terminal-replay-prompt-without-meter = Hinweis (ohne Messgerät)

## terminal/commands/review

terminal-review-there-another-file-name-left = { $path }: dort liegt eine andere Datei; sie blieb, wie sie ist. Gib einen anderen Namen an
terminal-review-written-to = geschrieben nach { $path }

## terminal/commands/seal

terminal-seal-there-no-terminal-to-ask = hier ist kein Terminal, um nach der Passphrase zu fragen; gib --passphrase-from PFAD an
terminal-seal-passphrase-nothing-shown = Passphrase (nichts wird angezeigt):
terminal-seal-once-more = Noch einmal:
terminal-seal-two-not-same-nothing-sealed = die beiden sind nicht gleich; nichts wurde versiegelt
terminal-seal-passphrase-no-text = die Passphrase ist kein Text
terminal-seal-is-the-passphrase-file = { $path } enthält die Passphrase und würde beim Versiegeln ersetzt; nichts wurde versiegelt. Gib eine andere Datei an

## terminal/commands/sensor

terminal-sensor-no-such-sensor-in-log = kein solcher Sensor steht im Protokoll; trag ihn ein mit: ebbstead add sensor inserted --site STELLE
terminal-sensor-to-note-one-ebbstead-add = So trägst du eins ein: ebbstead add sensor inserted --site "linker Arm"
terminal-sensor-to-be-reminded-when-sensor = Um zu erfahren, wann ein Sensor überfällig ist, sag, wie lange deine vorgesehen sind: ebbstead settings sensor-days 10

## terminal/commands/settings

terminal-settings-none = keiner
terminal-alerts-never = nie
terminal-settings-log-has-no-readings-sensor = im Protokoll sind keine Werte eines Sensors namens { $name } (die es hat: { $known })
terminal-settings-not-set = nicht gesetzt
terminal-settings-sparing-fewer-later-prompts-to = sparing: seltener und später behandeln
terminal-settings-balanced = balanced: ausgewogen
terminal-settings-early-earlier-more-needless-prompts = early: früher behandeln, öfter unnötig
terminal-settings-unit = je Einheit
terminal-settings-gram = je Gramm
terminal-settings-one-read-first = der zuerst gelesene
terminal-settings-change-one-with-ebbstead-settings = Ändern mit: ebbstead settings NAME WERT. Grenzen und Faktoren legst du mit deinem Behandlungsteam fest.

## terminal/commands/supplies

terminal-supplies-nothing-noted-supplies-count-once = Zu Vorräten ist nichts eingetragen. Zähl einmal, was da ist: ebbstead add supply counted sensors 3
terminal-supplies-to-be-reminded-when-to = Um zu erfahren, wann du bestellen musst, sag, wie lange die Lieferung dauert: ebbstead settings lead-days 7

## terminal/demo

demo-demo-with-everything-in-invented = Eine Vorführung, in der alles erfunden ist
demo-nobody-lived-evening-and-night = Niemand hat diesen Abend und diese Nacht erlebt: Eine kleine Simulation von Körper und Sensor hat die Werte gemacht. Was dazu gesagt wird, würde Ebbstead auch zu deinen sagen. Es ist kein Medizinprodukt und nennt keine Dosis; der Plan deines Behandlungsteams geht vor.
demo-demos-log-look-around-in = Das Protokoll der Vorführung ist { $display }: sieh dich mit --log darin um. Deines beginnt mit
demo-data-folder-cannot-be-written = der Datenordner lässt sich nicht beschreiben; die Vorführung bleibt nur im Speicher
demo-log-holds-something-else = { $display } enthält ein eigenes Protokoll, in dem die erfundenen Werte der Vorführung nichts verloren haben. Lass --log weg, um die Vorführung zu sehen, nenne eine Datei, die es noch nicht gibt, oder einen Befehl für dieses Protokoll, etwa check
demo-scene-saturday-evening-two = Samstagabend, zwei Stunden nach dem Abendessen und seinem Insulin. Die Werte fallen.
demo-scene-later-after-walk = Später, nach einem Spaziergang.
demo-scene-quarter-hour-after = Eine Viertelstunde danach; schnelle Kohlenhydrate sind genommen.
demo-scene-night-alert-has = Nacht. Ein Alarm hat geweckt; der Arm mit dem Sensor liegt unter dem Körper.
demo-scene-five-minutes-later = Fünf Minuten später, nach einer Blutmessung.
demo-scene-sunday-morning-three = Sonntagmorgen, eine Dreiviertelstunde nach dem Frühstück und seinem Insulin. Die Werte steigen.

## terminal/context

terminal-careful-devices-clock-behind-log = Vorsicht: die Uhr dieses Geräts ({ $now }) geht dem Protokoll nach, das zuletzt { $last } beschrieben wurde
terminal-no-number = { $text } ist keine Zahl
terminal-cannot-be-if-add = { $text } { $unit } kann nicht sein; wenn es { $other } ist, gib { $option } an
terminal-clocks-showed-twice = { $text } zeigte die Uhr zweimal; genommen wurde { $time }. Für das andere Mal schreib die Zeit mit ihrem Abstand zu UTC.
terminal-clocks-went-over = { $text } übersprang die Uhr beim Vorstellen; genommen wurde { $time }. Stimmt das nicht, schreib die Zeit mit ihrem Abstand zu UTC.

## terminal/failure

terminal-failure-cannot-write-result = das Ergebnis lässt sich nicht schreiben: { $error }
terminal-failure-kept-result-not-written = das Protokoll hat es aufgenommen, trag es also nicht noch einmal ein; nur das Ergebnis lässt sich nicht ausgeben: { $error }
terminal-failure-or-replace = { $error }, oder, wo der Befehl es kennt, --replace
terminal-failure-what-above-made-what-sound = { $error }. Was oben steht, ist aus dem gemacht, was darin heil ist; Einträge können fehlen. ebbstead recover rettet, was lesbar ist, in ein neues Protokoll

## words/prompts

label-why = Warum
label-careful = Vorsicht
label-would-change = Was das ändern würde
label-logged = Eingetragen
label-now = jetzt
label-reading = Wert
label-meter-check = Blutmessung
label-expected = erwartet
label-if-waiting = wenn du wartest
label-if-treating = wenn du jetzt behandelst
label-nine-in-ten = neunmal von zehn
label-low-line = untere Grenze
label-floor-line = sehr tief
label-high-line = obere Grenze
verdict-treat = Behandeln
verdict-check = Erst messen
verdict-hold = Abwarten
verdict-clear = Nichts zu entscheiden
verdict-help = Hilfe holen
heading-own-plan = Dein eigener Plan
heading-sick-day-plan = Plan für kranke Tage
matter-falling = Fallend oder tief
matter-rising = Hoch oder steigend
matter-night-wake = In der Nacht geweckt
matter-steady = Stabil
matter-too-little = Zu wenig Werte
sentence-call-for-help = Hol jetzt Hilfe: wähl den Notruf oder lass jemanden anrufen. Hier kann eine App nichts mehr ausrichten.
sentence-treat-confirmed-low = Nimm jetzt schnelle Kohlenhydrate, den ersten Schritt aus deinem Behandlungsplan (meist 15 bis 20 g): Die Blutmessung zeigt, dass du zu tief bist.
sentence-treat-below-floor = Nimm jetzt schnelle Kohlenhydrate, den ersten Schritt aus deinem Behandlungsplan (meist 15 bis 20 g): Du bist sehr tief.
sentence-treat-low = Nimm jetzt schnelle Kohlenhydrate, den ersten Schritt aus deinem Behandlungsplan (meist 15 bis 20 g): Du bist zu tief.
sentence-treat-before-low = Nimm jetzt schnelle Kohlenhydrate, den ersten Schritt aus deinem Behandlungsplan (meist 15 bis 20 g): Du bist bald zu tief, und der nächste Blick käme zu spät.
sentence-treat-felt-low = Nimm jetzt schnelle Kohlenhydrate, den ersten Schritt aus deinem Behandlungsplan (meist 15 bis 20 g): Du spürst eine Unterzuckerung, und das zählt.
sentence-treat-again-and-call = Hol jetzt jemanden dazu und nimm denselben Schritt noch einmal: Du hast ihn mehrmals genommen und bist noch zu tief.
sentence-check-felt-meter-disagrees = Miss jetzt noch einmal am Finger: Du spürst eine Unterzuckerung, die Blutmessung sagt etwas anderes. Dein Gefühl zählt.
sentence-check-meter-was-low = Miss jetzt am Finger: Deine letzte Blutmessung war zu tief, und seitdem ist nichts Gegessenes eingetragen.
sentence-check-unseen-low = Miss jetzt am Finger: Deine letzte Blutmessung war zu tief, und der Sensor zeigte es nicht. Er kann also nicht zeigen, ob reichte, was du gegessen hast.
sentence-check-other-sensor = Miss jetzt am Finger: Ein anderer Sensor, den du trägst, zeigt zu tief, dieser nicht.
sentence-check-after-severe = Miss am Finger und bleib nicht allein: Du hast Zeichen einer schweren Unterzuckerung notiert, und noch zeigt nichts, dass sie vorbei ist.
sentence-check-meter-twice = Wasch die Hände und miss ein drittes Mal: Eine Messung war zu tief, die nächste Minuten später nicht. Bis dahin gilt die tiefe.
sentence-check-meter-high = Wasch die Hände und miss noch einmal: Die Blutmessung liegt weit über dem Sensor, das kann Zucker am Finger bewirken.
sentence-check-apart = Miss jetzt am Finger: Sensor und Blutmessung liegen weit auseinander, und eines von beiden verbirgt vielleicht eine Unterzuckerung.
sentence-check-insulin = Miss am Finger und prüfe den Eintrag: Es wurde viel mehr Insulin eingetragen als üblich.
sentence-check-more-to-come = Miss am Finger: Du fällst, und Insulin, Bewegung oder Alkohol können dich noch tiefer bringen.
sentence-check-stuck = Miss am Finger: Der Sensor zeigt schon zu lange genau dieselbe Zahl.
sentence-check-ended = Miss am Finger: Dieser Sensor ist als beendet eingetragen.
sentence-hold-meter-near = Warte mit dem Behandeln: Nach der Blutmessung bist du knapp über deiner unteren Grenze. Schau bald wieder nach.
sentence-hold-after-jump = Warte ab: Ein Wert ist gesprungen und zurückgekommen. Die nächsten Werte klären es.
sentence-hold-insulin-to-come = Warte ab und schau bald wieder nach: Es ist mehr Insulin eingetragen, als gegessen wurde, und es kann dich in die Unterzuckerung bringen. War es für eine Mahlzeit, iss sie, oder trag sie ein, wenn du gegessen hast.
sentence-check-felt-disagrees = Miss jetzt am Finger: Was du spürst und was der Sensor zeigt, passt nicht zusammen.
sentence-check-compression = Roll dich vom Sensor weg und miss am Finger: Er wirkt gedrückt, und dann zeigt er zu wenig an.
sentence-check-rolled-off = Bleib vom Sensor weg und miss am Finger: War er gedrückt, kommen die Werte binnen Minuten zurück.
sentence-check-still-low = Miss jetzt am Finger: Du liegst nicht mehr auf dem Sensor, und die Werte sind nicht zurückgekommen.
sentence-check-unsettled = Miss am Finger, bevor du handelst: Der Sensor ist neu oder unruhig.
sentence-check-stale = Miss am Finger: Der neueste Wert ist zu alt, um danach zu handeln.
sentence-check-falling-fast = Miss jetzt am Finger: Du fällst schnell, und der Sensor hinkt dem Blut hinterher.
sentence-check-near-low = Miss am Finger: Du bist nahe an deiner unteren Grenze; eine Blutmessung klärt es.
sentence-check-just-low = Miss am Finger: Du warst eben noch zu tief und bist es vielleicht gleich wieder.
sentence-check-low-rising = Miss am Finger: Der Sensor zeigt noch tiefe Werte, doch wahrscheinlich steigst du schon.
sentence-hold-compression = Roll dich vom Sensor weg und schau bald wieder nach: Er wirkt gedrückt, und dann zeigt er zu wenig an.
sentence-hold-near-low = Warte mit dem Behandeln: Du bist nahe an deiner unteren Grenze, fällst aber gerade nicht.
sentence-hold-falling = Warte mit dem Behandeln: Du fällst, wirst aber bis zum nächsten Blick wohl nicht zu tief sein.
sentence-hold-rescue-working = Nimm noch nichts nach: Die schnellen Kohlenhydrate brauchen Zeit, um zu wirken.
sentence-hold-meter-above = Warte mit dem Behandeln: Deine Blutmessung ist frisch und liegt über deiner unteren Grenze.
sentence-hold-insulin-working = Warte mit dem Korrigieren: Du bist hoch, und dein Insulin wirkt noch.
sentence-hold-meal-arriving = Warte mit dem Korrigieren: Du steigst, während deine Mahlzeit noch ankommt.
sentence-hold-rising = Warte noch: Du bist hoch oder steigst; der nächste Blick zeigt mehr.
sentence-hold-own-plan = Du bist hoch: Dafür ist dein eigener Korrekturplan da, wenn dein Behandlungsteam dir einen gegeben hat.
sentence-check-high = Miss am Finger, bevor du korrigierst: Der Sensor zeigt sehr hohe Werte.
sentence-call-for-ketones = Hol jetzt Hilfe: So hohe Ketone können eine Ketoazidose sein. Ruf die Notfallnummer deines Behandlungsteams oder den Notruf an.
sentence-check-ketones = Miss jetzt Ketone: Krankheit oder ein Hoch, das anhält, kann sie steigen lassen.
sentence-check-vomiting = Miss am Finger: Du erbrichst, während Insulin wirkt, und was du gegessen hast, bleibt vielleicht nicht drin.
sentence-sick-day-plan-now = Folge jetzt deinem Plan für kranke Tage und ruf dein Behandlungsteam an: Deine Ketone sind hoch.
sentence-sick-day-plan-vomiting = Folge deinem Plan für Krankheitstage und ruf dein Behandlungsteam an: Du erbrichst dich und bist schon lange hoch.
sentence-sick-day-plan = Folge deinem Plan für kranke Tage: Deine Ketone sind erhöht. Trink, und miss sie innerhalb von zwei Stunden noch einmal.
sentence-nothing-to-decide = Es ist nichts zu tun. Sieh wieder nach, wenn sich etwas ändert.
sentence-no-readings = Es gibt keine Werte, nach denen man gehen kann. Spürst du eine Unterzuckerung oder bist du unsicher, miss am Finger; ohne Messgerät behandle.
without-meter-treat = Kein Messgerät da: behandeln.
without-meter-check = Kein Messgerät da: bald wieder nachsehen; behandeln, wenn du eine Unterzuckerung spürst.
without-meter-hold = Kein Messgerät da: abwarten, bald wieder nachsehen; behandeln, wenn du eine Unterzuckerung spürst.
without-meter-clear = Kein Messgerät da: Jetzt ist nichts zu entscheiden.
without-meter-help = Mit oder ohne Messgerät: Hilfe holen.
without-ketone-meter = Kein Ketonmessgerät zur Hand: Folge deinem Plan für kranke Tage, und ruf dein Behandlungsteam an, wenn du dich krank fühlst.
without-meter-high = Kein Messgerät da: korrigiere nicht nach diesem Wert allein und schau bald wieder nach. Bleibt er hoch oder geht es dir schlecht, ruf dein Behandlungsteam an.
look-again-at-once = Schau sofort wieder nach.
look-again-1 = Schau in 1 Minute wieder nach.
look-again = Schau in { $minutes } Minuten wieder nach.
reason-reading = Der Sensor zeigte { $amount }, { $ago }.
reason-reading-beyond-below = Der Sensor zeigte LOW: unter { $amount }, { $ago }.
reason-reading-beyond-above = Der Sensor zeigte HIGH: über { $amount }, { $ago }.
reason-blood = Dein Blutzucker, dem der Sensor mit Verzögerung folgt, liegt bei { $expected }.
reason-rate-level = Die Glukose { $movement }.
reason-rate-falling = Die Glukose { $movement }; bliebe es so, wäre sie in einer halben Stunde um { $amount } tiefer.
reason-rate-rising = Die Glukose { $movement }; bliebe es so, wäre sie in einer halben Stunde um { $amount } höher.
reason-easing-fall = Der Abfall lässt nach: vor einer halben Stunde { $before }, jetzt { $now }.
reason-easing-rise = Der Anstieg lässt nach: vor einer halben Stunde { $before }, jetzt { $now }.
reason-if-so = , falls ja, in etwa { $span }
reason-chance-low = Wahrscheinlichkeit für einen Wert unter deiner unteren Grenze ({ $line }) binnen { $within_minutes } Minuten: { $chance }{ $when }.
reason-if-waiting = Wenn du wartest: Blutzucker unter { $line } binnen { $within_minutes } Minuten mit einer Wahrscheinlichkeit von { $chance }{ $when }.
reason-if-treating = Wenn du jetzt behandelst: Blutzucker unter { $line } binnen { $within_minutes } Minuten mit einer Wahrscheinlichkeit von { $chance }, über deiner oberen Grenze binnen einer Stunde mit { $high_chance }.
reason-chance-floor = Wahrscheinlichkeit für einen sehr tiefen Wert (unter { $line }) binnen { $within_minutes } Minuten: { $chance }.
reason-chance-high = Wahrscheinlichkeit für einen Wert über deiner oberen Grenze ({ $line }) binnen { $within_minutes } Minuten: { $chance }.
reason-meter = Die Blutmessung ergab { $amount }, { $ago }.
reason-meter-beyond-below = Die Blutmessung ergab LOW: unter { $amount }, { $ago }.
reason-meter-beyond-above = Die Blutmessung ergab HIGH: über { $amount }, { $ago }.
reason-feels-low = Du spürst eine Unterzuckerung.
reason-feels-high = Du spürst einen hohen Zucker.
reason-severe-signs = Zeichen einer schweren Unterzuckerung: verwirrt, kann nicht schlucken oder reagiert nicht.
reason-compression = Wahrscheinlichkeit, dass der Sensor gedrückt wird: { $chance }; ohne das wärst du etwa bei { $without }.
reason-meter-apart-high = Nach deinen Blutmessungen zeigt der Sensor etwa { $amount } zu viel an.
reason-meter-apart-low = Nach deinen Blutmessungen zeigt der Sensor etwa { $amount } zu wenig an.
reason-other-sensor = Ein anderer Sensor, den du trägst, zeigte { $amount }, { $ago }.
reason-doubtful-dose = { $dose } Insulin sind { $ago } eingetragen; das ist viel mehr als üblich.
reason-long-acting-twice = Langzeitinsulin ist mehr als einmal eingetragen, zusammen { $dose }, zuletzt { $ago }: Prüfe, ob es zweimal eingetragen oder zweimal gespritzt wurde.
reason-rescues = Du hast in der letzten guten Stunde { $times }-mal schnelle Kohlenhydrate genommen.
reason-stuck = Der Wert hat sich seit { $span } gar nicht verändert.
reason-ended = Der Sensor ist { $ago } als beendet eingetragen.
reason-rolled-off = Du hast dich { $ago } vom Sensor weggerollt.
reason-unsettled = Wahrscheinlichkeit, dass der Sensor unruhig ist (Sprünge, Aussetzer): { $chance }.
reason-first-day = Der Sensor wurde { $ago } gesetzt; am ersten Tag ist er unzuverlässig.
reason-stale = Der neueste Wert ist { $span } alt.
reason-sudden-drop = Nach gleichbleibenden Werten ging es von { $from } auf { $to } in { $span }; das ist ungeprüft schwer zu glauben.
reason-rescue = Du hast { $ago } { $grams } g schnelle Kohlenhydrate genommen.
reason-insulin-on-board = Noch wirkendes Insulin: etwa { $dose } schnelles Insulin, die jüngste Gabe { $ago }.
reason-carbohydrate-arriving = Etwa { $grams } g Kohlenhydrate kommen noch an.
reason-alcohol = Alkohol: { $dose }, zuletzt { $ago }; er kann die Glukose bis zum nächsten Mittag senken.
reason-ketones = Ketone { $amount } mmol/L { $ago }.
reason-ill = Du bist krank, wie du { $ago } eingetragen hast.
reason-vomiting = Du erbrichst, wie du { $ago } eingetragen hast.
reason-high-for = Du bist seit { $span } über deiner oberen Grenze.
reason-no-insulin-noted = In den letzten { $span } wurde kein schnelles Insulin eingetragen.
reason-insulin-not-lowering = Du hast { $ago } schnelles Insulin genommen, und es hat deine Glukose noch nicht gesenkt.
reason-moving = Du bist in Bewegung, das senkt die Glukose.
reason-moved = Deine Bewegung endete { $ago }; danach kann die Glukose weiter fallen.
caution-sensor-lags = Der Sensor hinkt dem Blut um Minuten hinterher; beim Fallen ist das Blut schon tiefer.
caution-sensor-lags-rising = Der Sensor hinkt dem Blut um Minuten hinterher; beim Steigen ist das Blut schon höher.
caution-meter-decides = Zeigen Sensor und Messgerät Verschiedenes, gilt das Messgerät.
caution-in-doubt-treat = Im Zweifel und ohne Messgerät: behandeln.
caution-recheck-in15 = Bist du nach 15 Minuten noch zu tief, nimm denselben Schritt noch einmal.
caution-rise-takes-time = Nach 15 Minuten zeigt der Sensor vielleicht noch keinen Anstieg; eine Blutmessung zeigt ihn früher.
caution-do-not-stack = Insulin auf noch wirkendes Insulin kann später zu tief führen.
caution-no-dose = Hier wird keine Dosis genannt: Die kommt aus deinem Plan und von deinem Behandlungsteam.
caution-ketones-when-high = Seit Stunden hoch oder krank: Ketone messen und nach den Regeln deines Behandlungsteams für Krankheitstage handeln.
caution-ketones-again = Erhöhte Ketone: Miss sie innerhalb von zwei Stunden noch einmal und treib keinen Sport. Wenn du erbrichst, nicht trinken kannst, schnell atmest oder es schlimmer wird, hol Hilfe.
caution-ketones-emergency = Auch deine Ketone brauchen Hilfe: Ist die Unterzuckerung behandelt, wähl den Notruf.
caution-ketones-after-low = Auch deine Ketone sind erhöht und brauchen Kohlenhydrate. Ist die Unterzuckerung behandelt, folge deinem Plan für kranke Tage, ruf dein Behandlungsteam an und miss die Ketone binnen zwei Stunden noch einmal.
caution-ketones-high = Hohe Ketone: Folge deinem Plan für Krankheitstage und ruf jetzt dein Behandlungsteam an, auch wenn die Glukose nicht hoch ist. Miss sie innerhalb von zwei Stunden wieder.
caution-insulin-may-not-get-in = Vielleicht kommt Insulin nicht an: Stelle oder Schlauch einer Pumpe können versagen, Insulin kann verderben. Dein Plan sagt, was dann zu tun ist.
caution-may-not-stay-down = Wenn du Zucker nicht bei dir behalten kannst, hol Hilfe: Vielleicht wird Notfall-Glukagon gebraucht.
caution-first-day-unreliable = Am ersten Tag eines Sensors glaub eher dem Messgerät als dem Sensor.
caution-nothing-by-mouth = Gib niemandem etwas in den Mund, der nicht schlucken kann oder nicht reagiert. Gib Notfall-Glukagon, wenn es da ist und man es dir gezeigt hat.
caution-call-somebody = Sag jemandem Bescheid und bleib nicht allein. Wird es schlimmer, wähl den Notruf.
caution-alcohol-lowers-later = Nach Alkohol kommt eine Unterzuckerung oft spät und fühlt sich an wie Trunkenheit: Iss vor dem Schlafen und sag jemandem Bescheid.
caution-insulin-right-or-wrong = Stimmt der Eintrag nicht, berichtige ihn oder nimm ihn zurück. Stimmt er, ruf jetzt dein Behandlungsteam oder den Notruf an und miss weiter am Finger.
caution-feelings-count = Spürst du eine Unterzuckerung, zählt das mehr als die Zahl.
change-reading-below = ein Wert unter { $amount }
change-reading-above = ein Wert über { $amount }
change-falling-faster-than = ein Abfall schneller als { $rate }
change-meter-below = eine Blutmessung unter { $amount }
change-meter-above = eine Blutmessung von { $amount } oder mehr
change-ketones-above = Ketone ab { $amount } mmol/L
change-feeling-low = Zeichen einer Unterzuckerung
change-readings-come-back = Werte, die binnen Minuten zurückkommen, wenn du dich vom Sensor wegrollst
change-new-readings = neue Werte

## words/quantities

pace-level = kaum
pace-slow = langsam
pace-fast = schnell
pace-very-fast = sehr schnell
movement-level = bleibt gleich
movement-falling = fällt
movement-rising = steigt
chance-under-1 = unter 1 %
chance-over-99 = über 99 %
expected = etwa { $amount } ({ $low } bis { $high })
ago-just-now = gerade eben
ago = vor { $span }
beyond-below = zu tief zum Messen (unter { $amount })
beyond-above = zu hoch zum Messen (über { $amount })
insulin-units = { $units } { $count ->
    [one] Einheit
   *[other] Einheiten
    }
alcohol-drinks = { $drinks } { $count ->
    [one] Glas
   *[other] Gläser
    }
meter-checks = { $count } { $count ->
    [one] Blutmessung
   *[other] Blutmessungen
    }
span-moment = unter einer Minute
span-minutes = { $count } { $count ->
    [one] Minute
   *[other] Minuten
    }
span-hours = { $count } { $count ->
    [one] Stunde
   *[other] Stunden
    }
span-hours-minutes = { $hours } h { $minutes } min
span-days = { $count } { $count ->
    [one] Tag
   *[other] Tage
    }
span-after-days = { $count } { $count ->
    [one] Tag
   *[other] Tagen
    }

## words/entries

entry-sensor-reading = Sensorwert { $amount }
entry-sensor-beyond = Sensorwert { $beyond }
entry-meter-check = Blutmessung { $amount }
entry-meter-beyond = Blutmessung { $beyond }
entry-carbohydrate = Kohlenhydrate { $grams } g, { $purpose }
entry-alcohol = Alkohol { $dose }
entry-ketones = Ketone { $amount } mmol/L
entry-ill = krank
entry-vomiting = krank und erbricht
entry-well-again = wieder gesund
entry-activity = Bewegung: { $activity }, { $minutes } Minuten, { $effort }
entry-activity-1 = Bewegung: { $activity }, 1 Minute, { $effort }
entry-sleep = Schlaf bis { $until }
entry-sensor-inserted = Sensor gesetzt
entry-lot = , Charge { $lot }
entry-sensor-warm-up-over = Aufwärmzeit des Sensors vorbei
entry-sensor-rolled-off = vom Sensor weggerollt
entry-sensor-ended = Sensor beendet
entry-sensor-fault = Sensorfehler: { $seen }
entry-sensor-device-fault = Sensorfehler: { $code }
entry-note = Notiz: { $text }
entry-compression-low = Sensor gedrückt bis { $until }
entry-supply-good-until = , haltbar bis { $day }
entry-supply-from = , von { $from }
entry-prompted-chance = , Wahrscheinlichkeit für eine Unterzuckerung binnen 30 Minuten { $chance }
entry-import = eingelesen: { $name }
entry-retraction = ein zurückgenommener Eintrag
item-sensor = Sensoren
item-transmitter = Sender
item-battery = Batterien
item-test-strip = Teststreifen
item-rapid-insulin = schnelles Insulin
item-long-acting-insulin = langes Insulin
item-rescue-carbohydrate = schnelle Kohlenhydrate
stocked-counted = gezählt
stocked-received = erhalten
stocked-used = verbraucht
stocked-thrown-away = weggeworfen
stocked-quoted = angeboten
insulin-rapid = schnelles Insulin
insulin-long-acting = langes Insulin
purpose-meal = Mahlzeit
purpose-rescue = gegen zu tief
effort-light = leicht
effort-moderate = mittel
effort-hard = anstrengend
symptom-feels-low = spürt Unterzuckerung
symptom-feels-high = spürt hohen Zucker
symptom-none = spürt weder tief noch hoch
symptom-severe = schwere Zeichen
device-fault-sensor-type = das Gerät nimmt diesen Sensor nicht
device-fault-sensor-malfunction = der Sensor meldet eine Störung
device-fault-general = der Sensor meldet einen allgemeinen Fehler
spell = { $date }, { $from } bis { $until }
entry-sensor-rated = , vorgesehen für { $days } { $days ->
    [one] Tag
   *[other] Tage
    }
entry-prompted-treat = gesagt: Behandeln
entry-prompted-check = gesagt: Erst messen
entry-prompted-hold = gesagt: Abwarten
entry-prompted-clear = gesagt: Nichts zu entscheiden
entry-prompted-help = gesagt: Hilfe holen

## words/chart

chart-nothing = Keine Werte zu zeigen.
chart-past = In den letzten { $span }: von { $first } auf { $last }, der neueste um { $last_at }; am tiefsten { $lowest } um { $lowest_at }, am höchsten { $highest } um { $highest_at }.
chart-ahead = in { $minutes } Minuten { $expected }
chart-expected = Erwartete Glukose: { $each } (in Klammern: wo sie in neun von zehn Fällen liegt).
chart-if-treated = Wenn du jetzt behandelst: etwa { $amount } in einer Stunde.

## words/lessons

lesson-too-little = Zu wenig, um deine eigenen Größen zu lernen: { $have_days } { $count ->
    [one] Tag mit Werten ist
   *[other] Tage mit Werten sind
    } da, { $need_days } sind nötig. Bis dahin gelten die Größen, die zu den meisten passen.
lesson-rests-on = Das stützt sich auf { $days } Tage mit { $readings } Werten und { $checks }.
lesson-own-used = Ab jetzt gelten deine eigenen Größen: Mit ihnen passten Vorhersagen für eine halbe Stunde { $percent } % besser zu dem, was kam, als mit den üblichen (Güte { $score_own }, vorher { $score_population }).
lesson-own-not-used = Deine eigenen Größen wurden versucht und sagten nicht besser vorher; es bleiben die üblichen (Güte { $score_own }, mit den üblichen { $score_population }).
lesson-moves = Dein Zucker bewegt sich { $times }-mal so stark wie bei den meisten.
lesson-moves-at-night = In deiner Nacht bewegt er sich { $times }-mal so stark wie an deinem Tag.
lesson-moves-when-high = Um { $high } bewegt er sich { $times }-mal so stark wie um { $low }.
lesson-scatter = Einzelne Werte streuen um etwa { $amount } um ihren Verlauf.
lesson-lag = Dein Sensor läuft dem Blut um etwa { $minutes } Minuten nach.
lesson-lag-needs-checks = Wie weit dein Sensor dem Blut nachläuft, lässt sich noch nicht sagen: { $checks } aus diesen Tagen, { $need } sind nötig.
lesson-forecasts = Vorhersagen wurden daran verbessert, wie { $count } von ihnen ausgingen.
calibration-figures = { $shown } Wahrscheinlichkeiten, ausgerechnet aus dem, was jeweils bekannt war: im Mittel { $mean_chance } %; in { $came } % kam es so. Im Mittel lag eine um { $off } Punkte daneben.
calibration-too-few = Noch lässt sich nichts sagen: { $have } { $count ->
    [one] halbe Stunde mit fallenden Werten wurde
   *[other] halbe Stunden mit fallenden Werten wurden
    } verfolgt, { $need } sind nötig.
calibration-calibrated = Die Wahrscheinlichkeiten waren gut kalibriert, soweit sich das sagen lässt. { $figures }
calibration-over-forecasts = Es wird seltener zu tief als gesagt. { $figures }
calibration-under-forecasts = Es wird öfter zu tief als gesagt. { $figures }

## words/files

finding-column = , Spalte { $column }
finding-no-time = hier fehlt die Zeit; ausgelassen
finding-time-unreadable = die Zeit ist anders geschrieben als die übrigen; ausgelassen
finding-offset-contradicts = das widerspricht der Zeit daneben: ein anderer Abstand zu UTC; ausgelassen
finding-time-outside-years = das Jahr liegt nicht zwischen 2000 und 2199; ausgelassen
finding-in-future = die Zeit liegt für die Uhr dieses Geräts in der Zukunft; ausgelassen. Prüf beide Uhren
finding-not-a-number = das ist keine Zahl; ausgelassen
finding-says-low = für den Sensor zu tief zum Messen; als solcher Wert übernommen
finding-says-high = für den Sensor zu hoch zum Messen; als solcher Wert übernommen
finding-other-unit = in der Einheit dieser Datei unmöglich, in der anderen möglich; ausgelassen
finding-names-other-unit = diese Zeile nennt eine andere Einheit als die Datei; ausgelassen
finding-too-few-cells = die Zeile endet vor dem Wert; ausgelassen
finding-too-many-cells = mehr Zellen als benannte Spalten; ausgelassen. Ein Dezimalkomma braucht Anführungszeichen oder ein anderes Trennzeichen
finding-contradicts = ein anderer Wert zur selben Zeit; beide übernommen, der tiefere gilt
finding-clock-went-back = die Zeiten springen hier zurück: verstanden als Nacht, in der die Uhr zurückgestellt wurde
finding-hour-that-never-was = diese Zeit übersprang die Uhr beim Vorstellen; übernommen, als wäre nicht vorgestellt worden
finding-open-quote = dieses Anführungszeichen wird in seiner Zeile nicht geschlossen; dort geschlossen, und die Zeilen darunter werden für sich gelesen
finding-line = Zeile { $line }{ $column }{ $given }: { $reason }
fault-nothing = nichts
fault-empty = die Datei ist leer; nichts wurde übernommen
fault-no-rows = es gibt Spaltennamen und darunter keine Werte; nichts wurde übernommen
fault-not-text = das ist keine Texttabelle, oder sie ist in UTF-16; speichere sie als CSV in UTF-8
fault-no-time-column = keine Spalte heißt wie eine Zeit (gefunden: { $seen }); sag, welche sie enthält
fault-no-glucose-column = keine Spalte heißt wie Glukosewerte (gefunden: { $seen }); sag, welche sie enthält
fault-several-glucose-columns = mehrere Spalten könnten die Sensorwerte enthalten ({ $seen }); sag, welche
fault-no-such-column = es gibt keine Spalte { $asked } (gefunden: { $seen })
fault-times-unknown = die Zeit { $given } ist in keiner bekannten Weise geschrieben; sag, wie, etwa { $like }
fault-day-or-month = in { $given } könnten beide Zahlen der Tag sein; sag, welche: { $day_first } oder { $month_first }
fault-bad-time-format = { $given } beschreibt keine Zeit; nimm Zeichen wie %Y-%m-%d %H:%M:%S
fault-unit-unknown = Werte wie { $given } passen zu mg/dL wie zu mmol/L; sag, in welcher Einheit die Datei ist
fault-other-unit = die Datei soll in { $said } sein, Werte wie { $given } sehen aber nach { $fits } aus; sag, dass die Datei in { $fits } ist. Nichts wurde übernommen
fault-several-kinds = ihre Zeilen sind von mehreren Arten ({ $column } nennt: { $seen }), und welche davon Glukose nennt, ist unbekannt; behalt nur die Zeilen mit Glukose
fault-another-unit = Spalte { $column } sagt, dass die Werte in { $given } sind; das wird hier nicht gelesen. Rechne um und nenne die Einheit. Nichts wurde übernommen
fault-unit-not-named = keine Einheit ist genannt, und Werte wie { $given } wären in mmol/L alle zu tief: vielleicht g/L. Sag, welche es ist, oder rechne g/L vorher um. Nichts wurde übernommen
fault-several-units = Spalte { $column } sagt eine andere Einheit als andere Zeilen oder der Name der Werte; behalte die Zeilen einer Einheit. Nichts wurde übernommen
fault-offset-unknown = in Spalte { $column } mit Abständen zu UTC ist { $given } nicht lesbar; schreib +01:00, oder lass sie weg, wenn es Ortszeiten sind. Nichts wurde übernommen
fault-several-sensors = Spalte { $column } nennt Sensoren, die gleichzeitig messen ({ $seen }); behalte die Zeilen von einem, oder lass die Spalte weg, wenn es einer ist. Nichts wurde übernommen
fault-only-meter = die einzigen Werte heißen wie die eines Messgeräts (gefunden: { $seen }); trag Blutmessungen einzeln ein, oder nenne die Spalte des Sensors. Nichts wurde übernommen
fault-row-too-long = diese Zeile ist länger als 1 MB, die Grenze für eine; such ein Anführungszeichen, das nie geschlossen wird
refused-column = , Spalte { $column }
refused = { $file }, Zeile { $line }{ $column }: { $why }
finding-out-of-range = nicht zwischen { $least } und { $most }; ausgelassen

## words/counted

counted-readings = { $count } { $count ->
    [one] Wert
   *[other] Werte
    }
counted-sensor-readings = { $count } { $count ->
    [one] Sensorwert
   *[other] Sensorwerte
    }
counted-new-readings = { $count } { $count ->
    [one] neuer Wert
   *[other] neue Werte
    }
counted-entries = { $count } { $count ->
    [one] Eintrag
   *[other] Einträge
    }
counted-other-entries = { $count } { $count ->
    [one] anderer Eintrag
   *[other] andere Einträge
    }
counted-new-entries = { $count } { $count ->
    [one] neuer Eintrag
   *[other] neue Einträge
    }
counted-imports = { $count } { $count ->
    [one] Import
   *[other] Importe
    }
counted-figures = { $count } { $count ->
    [one] Zahl des Rückblicks
   *[other] Zahlen des Rückblicks
    }
counted-rows = { $count } { $count ->
    [one] Zeile
   *[other] Zeilen
    }
counted-resources = { $count } { $count ->
    [one] Ressource
   *[other] Ressourcen
    }
counted-sources = { $count } { $count ->
    [one] Quelle
   *[other] Quellen
    }
counted-more = { $count } weitere

## words/errors

error-out-of-range = { $what } muss zwischen { $low } und { $high } { $unit } liegen, nicht { $given }
error-over-nothing = { $what } muss mehr als 0 und höchstens { $high } { $unit } sein
error-invalid = { $what } kann so nicht angenommen werden ({ $why })
error-no-such-entry = in diesem Protokoll gibt es keinen Eintrag { $id }
error-not-a-log = { $path }: kein Protokoll von Ebbstead; die Datei blieb, wie sie war. Gib einen anderen Pfad an
error-newer-log = { $path }: von einem neueren Ebbstead geschrieben (Aufbau { $found }, dieses liest bis { $known }); die Datei blieb, wie sie war. Bring Ebbstead auf den neuen Stand
error-damaged-log = { $path }: das Protokoll ist beschädigt ({ $what }); die Datei blieb, wie sie war. Mach zuerst eine Kopie
error-disk-full = { $path }: kein Platz mehr auf dem Datenträger; nichts davon wurde geschrieben. Schaff Platz und versuch es noch einmal
error-log-was-empty = { $path } war da und leer; darin beginnt ein neues Protokoll. Wenn dort ein Protokoll lag, sind seine Einträge nicht mehr darin: such eine Kopie
error-read-only = { $path }: das Protokoll lässt sich nicht beschreiben (Datei oder Ordner nur lesbar)
error-gone = { $path }: das Protokoll wurde gelöscht, verschoben oder ersetzt, während es offen war; nichts davon wurde geschrieben. Öffne es noch einmal
error-busy = { $path }: ein anderes Programm schreibt gerade in das Protokoll; versuch es noch einmal
error-not-a-sealed-log = { $path }: kein versiegeltes Protokoll, oder eines, das ein neueres Ebbstead versiegelt hat
error-wrong-passphrase = { $path }: die Passphrase öffnet es nicht; nichts wurde geändert. Bist du dir sicher, können die ersten Zeilen der Datei beschädigt sein
error-damaged-sealed-log = { $path }: das versiegelte Protokoll ist beschädigt ({ $what }); nichts wurde daraus übernommen. Nimm eine andere Kopie
error-database = { $path }: das Protokoll war nicht zu benutzen ({ $source })
file-exists = eine solche Datei gibt es schon, und sie blieb, wie sie ist; nimm einen anderen Namen
file-not-found = eine solche Datei oder einen solchen Ordner gibt es nicht
file-permission-denied = das System erlaubt es nicht
file-is-a-folder = das ist ein Ordner
quantity-glucose = Glukose
quantity-limit-of-too-low-to-measure = Grenze für zu tief zum Messen
quantity-limit-of-too-high-to-measure = Grenze für zu hoch zum Messen
quantity-insulin = Insulin
quantity-carbohydrate = Kohlenhydrate
quantity-alcohol = Alkohol
quantity-activity = Bewegung
quantity-sleep = Schlaf
quantity-country = Land
quantity-language = Sprache
quantity-morning = Morgen
quantity-ketones = Ketone
quantity-time-until-the-morning = Zeit bis zum Morgen
quantity-length-of-the-drive = Dauer der Fahrt
quantity-length-of-the-movement = Dauer der Bewegung
quantity-compression-low = Zeit mit gedrücktem Sensor
quantity-low-line = untere Grenze
quantity-high-line = obere Grenze
quantity-insulin-factor = Insulinfaktor
quantity-carbohydrate-factor = Kohlenhydratfaktor
quantity-rated-length = vorgesehene Tragedauer
quantity-lead-time = Lieferzeit
quantity-amount-of-a-supply = Menge eines Vorrats
quantity-price = Preis
quantity-quote = Angebot
quantity-currency = Währung
quantity-chance = Wahrscheinlichkeit
quantity-time = Zeit
quantity-hours = Stunden
quantity-text = Text
quantity-source = Quelle
quantity-passphrase = Passphrase
quantity-retraction = Rücknahme
quantity-bluetooth-message = Bluetooth-Nachricht
quantity-contact-number = Nummer der Kontaktperson
quantity-correction = Berichtigung
quantity-days = Tage
quantity-delay = Verzögerung
quantity-document = Dokument
quantity-emergency-number = Notrufnummer
quantity-entry = Eintrag
quantity-expiry-date = Verfallsdatum
quantity-header = Kopfzeile
quantity-alert-for-highs = Alarm bei hohen Werten
quantity-alert-for-lows = Alarm bei tiefen Werten
quantity-alert-for-a-lost-signal = Alarm bei verlorenem Signal
quantity-alert-for-rates = Alarm bei schnellen Änderungen
quantity-identity = Kennung
quantity-log = Protokoll
quantity-log-file = Protokolldatei
quantity-number = Zahl
quantity-other-log = anderes Protokoll
quantity-period = Zeitraum
quantity-repetition = Wiederholung
quantity-sensor = Sensor
quantity-setting = Einstellung
quantity-snooze = Pause
quantity-table-of-events = Tabelle von Ereignissen
quantity-zone = Zeitzone
why-empty = ist leer
why-too-long = hat über { $most } Bytes
why-control-characters = enthält Steuerzeichen
why-not-one-line = darf nur eine Zeile mit höchstens { $most } Bytes sein
why-malformed = „{ $given }“; schreib es wie { $like }
why-not-dialled = gib 2 bis 15 Ziffern an, etwa +49 30 123456
why-no-number = ist keine Zahl
why-two-ways = { $given } kann zweierlei heißen; schreib die Zahl ohne Tausendertrennzeichen
why-corrected-elsewhere = wurde inzwischen auf einem anderen Gerät verbessert; nenne den Eintrag, der zurückgenommen werden soll
why-fits-other-unit = passt nur zur anderen Einheit
why-ketones-too-high = das ist mehr, als das Messgerät messen kann: Ruf jetzt dein Behandlungsteam oder den Notruf, wie dein Plan für Krankheitstage es sagt. Zum Eintragen gib die höchste Zahl an, die das Messgerät zeigt
why-outside-years = liegt außerhalb der Jahre { $first } bis { $last }
why-offset-from-utc = liegt { $minutes } Minuten neben UTC
why-same-hours = gib zwei verschiedene Uhrzeiten zwischen 00:00 und 23:59 an
why-in-future = { $at } liegt für die Uhr dieses Geräts ({ $clock }) in der Zukunft; prüf beide
why-ends-before-it-begins = endet vor dem Beginn
why-over-a-day = dauert über 24 Stunden
why-not-after = { $until } liegt nicht nach { $from }
why-pieces-come-whole = muss eine ganze Stückzahl sein
why-names-no-price = nennt keinen Preis
why-names-no-entry = nennt keinen Eintrag
why-not-its-own = gehört nicht zu diesem Wert
why-few-characters = braucht mindestens { $least } Zeichen; mehrere Wörter merkt man sich am leichtesten
why-few-different = braucht mindestens { $least } verschiedene Zeichen
why-retract-instead = verbirgt den Eintrag; nimm ihn stattdessen zurück
why-import-only-renamed = ein Import lässt sich nur umbenennen
why-import-taken-back = der Eintrag kam mit einem Import, der zurückgenommen wurde; hol zuerst den Import zurück
why-has-entries = hat schon Einträge; übernimm das andere wie von einem anderen Gerät
why-cannot-be-taken = kann nicht übernommen werden
why-cannot-be-compared = kann nicht verglichen werden
why-no-such-sensor = so einen Sensor gibt es im Protokoll nicht
why-merge-warnings = etwas spricht dagegen, es zu übernehmen
why-no-home-folder = es gibt keinen Benutzerordner; sag, wo das Protokoll liegt
why-one-offset = eine Tabelle von Ereignissen braucht einen einzigen Abstand zu UTC
why-needs-columns = braucht die Spalten { $names }
damage-side-file-alone = die Datei fehlt oder ist leer, aber die daneben mit -wal im Namen enthält Einträge
damage-first-page = die erste Seite ist nicht lesbar
damage-pages = die Seiten widersprechen einander
damage-auto-vacuum = ein anderes Programm hat es mit Auto-Vacuum neu geschrieben
damage-ends-early = die Datei endet zu früh
damage-table = eine Tabelle ist nicht, wie sie angelegt wurde
damage-value = ein Wert ist von falscher Art
damage-row-too-large = eine Zeile ist größer als jede, die geschrieben wird
damage-reading = ein Sensorwert ist nicht, wie er geschrieben wurde
damage-entry = ein Eintrag ist nicht, wie er geschrieben wurde
damage-setting = eine Einstellung ist nicht, wie sie geschrieben wurde
damage-source-without-name = eine Quelle hat keinen Namen
damage-import-without-identity = ein Import hat keine Kennung
damage-stray = ein Eintrag nennt eine Quelle oder einen Import, den es nicht gibt
damage-identity = die eigene Kennung ist nicht, wie sie geschrieben wurde
damage-head = der Kopf wurde verändert
damage-memory = es zu öffnen bräuchte mehr Speicher, als ein versiegeltes Protokoll bekommt
damage-piece = ein Stück davon wurde verändert
damage-empty = es ist leer
damage-line = eine Zeile darin ist nicht lesbar
damage-reading-without-source = ein Sensorwert hat keine Quelle
damage-reading-cannot-be = einen Sensorwert kann es so nicht geben
damage-entry-cannot-be = einen Eintrag kann es so nicht geben
damage-readings-out-of-order = die Sensorwerte sind nicht in ihrer Reihenfolge
damage-lines-out-of-order = die Zeilen sind nicht in ihrer Reihenfolge
damage-counts = es zählt anders, als es enthält
damage-after-end = nach dem Ende kommt noch etwas
damage-read-back = was zurückgelesen wurde, ist nicht, was geschrieben wurde
damage-side-file-head = die ersten Bytes der Datei daneben mit -wal im Namen sind nicht, wie sie geschrieben wurden
damage-side-file = die Datei daneben mit -wal im Namen ist nicht, wie sie geschrieben wurde
damage-side-file-lost = die Datei daneben mit -wal im Namen fehlt oder ist abgeschnitten
damage-reading-before-source = ein Wert liegt vor dem Beginn seiner Quelle
damage-source-start = wo eine Quelle beginnt, ist nicht, wie es geschrieben wurde
damage-layout = sein Aufbau nennt Version { $found }
unit-units = Einheiten
unit-drinks = Gläsern
unit-minutes = Minuten
unit-days = Tagen
unit-pieces = Stück
unit-of-the-currency = in der Währung
unit-as-a-share = als Anteil
unit-mg-dl-a-unit = mg/dL je Einheit
unit-mg-dl-a-gram = mg/dL je Gramm

## words/shell

shell-screen-now = Jetzt
shell-screen-night = Nacht
shell-screen-log = Protokoll
shell-screen-settings = Einstellungen
shell-look-now = Jetzt nachsehen
shell-feel-low = Ich spüre eine Unterzuckerung
shell-feel-high = Ich spüre einen hohen Wert
shell-feel-neither = Ich spüre keins von beiden
shell-severe-signs = Jemand ist verwirrt, kann nicht schlucken oder reagiert nicht
shell-i-treated = Unterzucker behandelt
shell-i-rolled-over = Ich liege nicht mehr auf dem Sensor
shell-meter-shows = Das Messgerät zeigt
shell-sensor-inserted = Neuen Sensor gesetzt
shell-sensor-site = Wohin, in deinen Worten
shell-sensor-fault = Was mit ihm nicht stimmte
shell-sensor-ended = Sensor entfernt
shell-lot = Charge auf der Packung
shell-by-day = Am Tag
shell-by-night = In der Nacht
shell-add = Speichern
shell-undo-last = Letztes rückgängig
shell-put-right = Berichtigen
shell-take-back = Zurücknehmen
shell-log-empty = In dieser Zeit steht nichts im Protokoll.
shell-nothing-to-undo = Es gibt nichts mehr rückgängig zu machen.
shell-taken-back = zurückgenommen
shell-kept = ins Protokoll eingetragen
shell-unit = Einheit
shell-language = Sprache
shell-night-from = Die Nacht beginnt
shell-night-until = Die Nacht endet
shell-weighing = Eine unnötige Behandlung gegen eine übersehene Unterzuckerung
shell-weighing-sparing = Seltener und später zum Behandeln raten
shell-weighing-balanced = Wie üblich
shell-insulin-factor = 1 Einheit schnelles Insulin senkt um
shell-carbohydrate-factor = 1 g Kohlenhydrate hebt um
shell-factors-from-care-team = Nur wie mit deinem Behandlungsteam festgelegt. Leer heißt: Nichts wird angenommen.
shell-low-line = Untere Grenze
shell-high-line = Obere Grenze
shell-alert-below = Alarm unter
shell-alert-above = Alarm über
shell-save = Sichern
shell-cancel = Abbrechen
shell-screen-record = Verlauf
shell-screen-review = Rückblick
shell-screen-sensors = Sensoren
shell-screen-alerts = Alarme
shell-screen-learnt = Was gelernt wurde
shell-days-back = Wie viele Tage
shell-rated-days = Tage, für die deine Sensoren zugelassen sind
shell-show-these = Anzeigen
shell-sensor-sheet = Blatt über den neuesten Sensor
shell-print-review = Zum Drucken oder Mitnehmen sichern
shell-try-delay = Alarm erst, wenn ein hoher Wert so lange anhält (Minuten)
shell-try-repeat = Wiederholen alle (Minuten)
shell-replay = Nachspielen
shell-learn-now = Jetzt aus dem Protokoll lernen
shell-nothing-learnt = Noch wurde nichts gelernt. Es braucht einige Tage mit Werten.
shell-aims-name = Welche veröffentlichten Ziele
shell-aims-adult = Erwachsene mit Typ 1 oder Typ 2
shell-aims-older = Ältere Menschen oder hohes Risiko
shell-aims-pregnancy = Schwangerschaft mit Typ 1
shell-compression-lows = Werte, während der Sensor gedrückt war
shell-compression-in = Mitzählen
shell-compression-out = Weglassen
shell-read-file = Datei mit Werten einlesen
shell-find-sensor = Sensor in der Nähe suchen
shell-screen-supplies = Vorräte
shell-screen-outcomes = Ergebnisse
shell-screen-copies = Kopien
shell-which-supply = Welcher Vorrat
shell-supply-stocked = Was geschah
shell-supply-expires = Letzter Tag der Verwendung, etwa 2027-03-01, falls bekannt
shell-supply-currency = Währung, drei Buchstaben
shell-supply-from = Von wem, wenn du es eintragen willst
shell-lead-days = Tage vom Bestellen bis zum Erhalt
shell-statement = Tatsachen für einen Brief, warum du den Sensor brauchst
shell-save-text = Als Text sichern
shell-seal-log = Versiegelte Kopie von allem schreiben
shell-passphrase = Passphrase, mindestens { $least } Zeichen
shell-passphrase-again = Dieselbe Passphrase noch einmal
shell-passphrase-lost = Ohne ihre Passphrase öffnet niemand die Kopie. Bewahr sie auf, wo du sie wiederfindest.
shell-passphrase-of-copy = Ihre Passphrase, wenn sie versiegelt ist
shell-merge = Übernehmen
shell-merge-anyway = Trotzdem übernehmen
shell-copy-restores = Dieses Protokoll ist leer: Die Einstellungen der Kopie und das Gelernte kommen mit.
shell-get-help = Hilfe holen
shell-help-now = Ruf an, wenn jemand verwirrt ist, nicht schlucken kann oder nicht reagiert.
shell-help-meanwhile = Wer nicht schlucken kann, bekommt nichts zu essen oder zu trinken. Leg die Person auf die Seite und bleib da. Glukagon, wenn es da ist und man es dir gezeigt hat.
shell-call-emergency = Anrufen:
shell-call-contact = Kontakt anrufen:
shell-emergency-number = Notrufnummer
shell-contact-number = Nummer deines Kontakts
shell-meter = Messgerät
shell-feel-low-short = Ich spüre Unterzucker
shell-more = Alles zeigen
shell-less = Weniger zeigen
shell-back = Zurück
shell-add-entry = Eintragen
shell-first-title = Bevor es losgeht
shell-first-is = Wenn dich ein Alarm weckt, hilft dir das bei der Entscheidung: behandeln, mit dem Messgerät nachmessen oder warten. Es läuft nur auf diesem Gerät, ohne Netz.
shell-agree = Verstanden
shell-next = Weiter
shell-where-from = Woher die Werte kommen
shell-sensor-why = Ein Sensor, der die Glukosedienste des Bluetooth-Standards spricht. Das Gerät fragt, ob nach Geräten in der Nähe gesucht werden darf.
shell-sensor-refused = Geräte in der Nähe lassen sich nicht suchen: Erlaube es in den Einstellungen des Telefons und schalte Bluetooth ein.
shell-file-why = Eine Tabelle oder ein HL7-FHIR-Bündel. Du wählst die Datei selbst; sonst wird nichts gelesen.
shell-no-readings = Noch keine Werte
shell-read-only-log = Das Protokoll lässt sich nur lesen: Nichts wird behalten. Entscheide nach dem, was da steht, und notier auf Papier.
shell-alerts-off = Alarme klingeln vielleicht nicht: Das Gerät hält Benachrichtigungen dieser App oder ihren Ton zurück oder lässt sie den gesperrten Bildschirm nicht füllen. Erlaube das alles in seinen Einstellungen.
shell-snooze = In { $minutes } Minuten
shell-late-answer = Nicht eingetragen: Dieser Alarm kam um { $clock }. Trag es mit der richtigen Uhrzeit ins Protokoll ein.
shell-standing-channel = Neuester Wert
shell-quiet-channel = Leise Alarme und Hinweise
shell-left-channel = Unbeantwortete Alarme
shell-wakes-allowed = Alarme dürfen mich wecken
shell-wakes-why = Das Gerät fragt, ob Benachrichtigungen gezeigt werden dürfen. Ohne sie klingelt nichts. Danach fragt es vielleicht, ob ein Alarm in der Nacht den gesperrten Bildschirm füllen darf: Erlaube es, sonst bleibt er dunkel.
shell-silent-mutes = Im Stummmodus klingelt kein Alarm, nach einem Neustart auch nicht, bis dieses Gerät einmal entsperrt wurde. Wische diese App nicht weg: Dann startet der Sensor sie nicht mehr.
shell-locked-after-start = Entsperre dieses Gerät: Bis dahin wird kein Wert beobachtet, und kein Alarm kann klingeln.
shell-try-alert = Einmal zur Probe klingeln
shell-tried-alert = Probe: So klingen Alarme.
shell-done = Los geht’s
shell-keep-plan = Ab jetzt mit diesen Grenzen alarmieren
shell-lost-after = Alarm bei fehlendem Signal nach (Minuten)
shell-screen-before = Vorher
shell-before-open = Vor Schlaf, Fahrt, Bewegung
shell-before-what = Was ansteht
shell-before-sleep = Schlaf
shell-before-driving = Eine Fahrt
shell-before-activity = Bewegung
shell-before-sleep-open = Vor dem Schlafen
shell-sensor-found = gefunden
shell-sensor-connected = verbunden
shell-sensor-lost = außer Reichweite
shell-leave-source = Nicht mehr lesen
shell-read-health = Gesundheitsdaten auf dem Gerät lesen
shell-health-why = Glukosewerte, die andere Apps in den Gesundheitsdaten des Geräts ablegen. Das Gerät fragt, was gelesen werden darf; geschrieben wird nichts.
shell-health-refused = Das Gerät erlaubt nicht, seine Gesundheitsdaten zu lesen. Erlaube dieser App in den Einstellungen des Geräts die Glukosewerte.
shell-health-missing = Dieses Gerät hat keine Gesundheitsdaten, die gelesen werden können. Wähl eine andere Quelle.
shell-health-busy = Die Gesundheitsdaten lassen sich gerade nicht lesen. Es wird von selbst wieder versucht.
shell-health-failed = Die Gesundheitsdaten konnten nicht gelesen werden. Es wird von selbst wieder versucht; miss bis dahin am Finger.
shell-health-stays = Glukosewerte werden aus den Gesundheitsdaten in das Protokoll auf diesem Gerät gelesen, für seine Antworten und Alarme. Dort wird nichts geschrieben, und diese App kann kein Netz benutzen.
shell-no-medical-device = Dies ist kein Medizinprodukt und nennt keine Dosis. Der Plan deines Behandlungsteams geht vor. Eine schwere Unterzuckerung braucht einen Menschen: Hol Hilfe.
advice-give-amount-from-to = Gib einen Wert von { $low } bis { $high } { $unit } an.
advice-time-cannot-be-lies-ahead = Diese Zeit kann nicht sein: Sie liegt für die Uhr dieses Geräts in der Zukunft oder außerhalb von 2000 bis 2199. Prüf beide.
advice-write-short-text-without-control = Schreib einen kurzen Text ohne Steuerzeichen.
advice-write-number-such-as-5 = Schreib eine Zahl, etwa 5,8.
advice-amount-only-fits-other-unit = Dieser Wert passt nur zur anderen Einheit. Prüf die Einheit in den Einstellungen.
advice-ketones-too-high = Das ist mehr, als das Messgerät messen kann: Ruf jetzt dein Behandlungsteam oder den Notruf, wie dein Plan für Krankheitstage es sagt. Zum Eintragen gib die höchste Zahl an, die das Messgerät zeigt.
advice-cannot-be-taken-as-check = So lässt sich das nicht übernehmen. Prüf die Angaben.
advice-passphrase-does-not-open-file = Die Passphrase öffnet diese Datei nicht. Nichts wurde geändert. Tipp sie noch einmal, Wort für Wort.
advice-no-sealed-log-or-newer = Das ist kein versiegeltes Protokoll, oder ein neueres Ebbstead hat es versiegelt.
advice-sealed-log-damaged-nothing-taken = Das versiegelte Protokoll ist beschädigt; nichts wurde daraus übernommen. Nimm eine andere Kopie.
advice-there-no-such-entry-in = Diesen Eintrag gibt es im Protokoll nicht.
advice-file-could-not-be-understood = Die Datei war nicht zu verstehen.
advice-file-cannot-be-opened-choose = Die Datei lässt sich nicht öffnen. Wähl sie noch einmal aus.
advice-file-no-ebbstead-log-left = Diese Datei ist kein Protokoll von Ebbstead. Sie blieb, wie sie war.
advice-log-written-by-newer-ebbstead = Das Protokoll hat ein neueres Ebbstead geschrieben; es blieb, wie es war. Bring die App auf den neuen Stand.
advice-log-damaged-and-kept-as = Das Protokoll ist beschädigt und blieb, wie es war. Mach zuerst eine Kopie; entscheide so lange mit dem Messgerät.
advice-log-was-empty = Die Datei des Protokolls war da und leer; darin beginnt ein neues. Wenn du schon ein Protokoll hattest, sind seine Einträge nicht mehr darin: such eine Kopie.
advice-no-room-left-on-device = Kein Platz mehr auf dem Gerät: Nichts davon wurde behalten. Schaff Platz und versuch es noch einmal.
advice-log-cannot-be-written = Das Protokoll lässt sich nicht beschreiben.
advice-log-deleted-moved-or-replaced = Das Protokoll wurde gelöscht, verschoben oder ersetzt, während es offen war: Nichts davon wurde behalten. Öffne es noch einmal.
advice-something-else-writing-to-log = Etwas anderes schreibt gerade in das Protokoll. Versuch es noch einmal.
advice-log-could-not-be-used = Das Protokoll war nicht zu benutzen. Versuch es noch einmal.
advice-log-not-open-open-app = Das Protokoll ist nicht offen. Öffne die App noch einmal; entscheide so lange mit dem Messgerät.
shell-weighing-early = Früher zum Behandeln raten, öfter unnötig
shell-floor-stays = Sehr niedrig bleibt und ist nicht verschiebbar:
shell-supply-amount = Wie viel: Stück, Einheiten Insulin oder Gramm
shell-supply-price = Preis für alles, wenn du ihn eintragen willst
shell-write-table = Tabelle für die Tabellenkalkulation schreiben (CSV)
shell-write-bundle = Bündel für Gesundheitsakten schreiben (HL7 FHIR)
shell-passphrases-differ = Die beiden sind verschieden. Tipp beide noch einmal.
shell-recover-why = Die Datei des Protokolls ist beschädigt. Was davon lesbar ist, wird in ein neues Protokoll geschrieben, das du behältst. Das beschädigte wird nur gelesen und bleibt, wie es ist.
shell-recover-log = Lesbares sichern
shell-recover-then = Um damit weiterzumachen, übernimm es in ein leeres Protokoll: Das nimmt alles auf, auch Einstellungen und Gelerntes. Behalte das beschädigte, bis du das neue durchgesehen hast.
shell-look-into-other = In ein anderes Protokoll oder eine versiegelte Kopie sehen
shell-nothing-new = Alles darin steht schon in diesem Protokoll.

## sentences/before, pages/before

before-start-help = Fang nicht an. Hol Hilfe.
before-start-treat-first = Fang nicht an: Behandle zuerst.
before-start-not-after-severe-low = Heute nicht: Eine schwere Unterzuckerung in den letzten 24 Stunden spricht dagegen.
before-start-not-with-ketones = Fang nicht an: Ketone ab { $amount } mmol/L. Folge deinem Plan für kranke Tage und ruf dein Team an.
before-start-not-while-ill = Fang nicht an, solange du krank bist oder erbrichst. Folge deinem Plan für kranke Tage.
before-start-wait-after-low = Noch nicht: Warte nach einer Unterzuckerung, bis die Glukose 45 Minuten lang wieder normal war.
before-start-check-first = Miss zuerst am Finger.
before-start-raise-first = Heb den Zucker zuerst, und warte, bis er darüber ist, wo die veröffentlichten Bereiche beginnen.
before-start-small-first = Zuerst einige Gramm Kohlenhydrate, dann kannst du anfangen.
before-start-insulin-to-come = Iss zuerst etwas und miss dann noch einmal: Es ist mehr Insulin eingetragen, als gegessen wurde, und Bewegung lässt es stärker senken.
before-start-light-only = Nur leicht und kurz: Die Ketone sind erhöht.
before-start-ketones-first = Hoch: Miss zuerst Ketone, wenn keine Mahlzeit es erklärt. Ohne Ketone kann leichte oder mittlere Bewegung beginnen.
before-start-not-hard = Nur leicht oder mittel: Harte Bewegung kann den Zucker noch heben.
before-start-may-rise = Du kannst anfangen. Diese Art Bewegung kann den Zucker zuerst heben.
before-start-can = Du kannst anfangen.
before-no-chance-can-be-given-there = Es lässt sich keine Wahrscheinlichkeit nennen: Es gibt keinen Wert. Miss am Finger.
before-no-chance-can-be-given-the = Es lässt sich keine Wahrscheinlichkeit nennen: Der neueste Wert kam { $ago }. Miss am Finger, und frag wieder, wenn Werte kommen.
before-no-chance-can-be-given-beyond = Die Wahrscheinlichkeit für mehr als eine Stunde braucht Werte eines halben Tages; es sind weniger da.
before-no-chance-is-given-before-that = Vorher wird keine Wahrscheinlichkeit genannt, denn es ändert, was kommt. Frag danach wieder.
before-no-chance-can-be-given-so = So weit voraus lässt sich keine Wahrscheinlichkeit nennen: Höchstens { $hours } Stunden. Frag näher daran wieder.
before-no-chance-insulin-to-come = Es wird keine Wahrscheinlichkeit genannt: Es ist mehr Insulin eingetragen, als gegessen wurde, und es kann dich in die Unterzuckerung bringen. War es für eine Mahlzeit, iss sie, oder trag sie ein, wenn du gegessen hast. Frag später wieder.
before-meter = Messgerät
before-sensor = Sensor
before-do-that-first-then-ask-again = Tu das zuerst. Frag dann wieder, spätestens um { $at }.
before-look-again-at-before-you-sleep = Sieh um { $at } noch einmal nach, bevor du schläfst.
before-look-once-in-the-night-set = Sieh in der Nacht einmal nach: Stell einen Wecker auf etwa { $at }.
before-nothing-seen-now-asks-for-a = Nichts von dem, was jetzt zu sehen ist, verlangt nachts einen Blick. Lass den Alarm an.
before-check-with-a-meter-before-you = Miss am Finger, bevor du schläfst: Was der Sensor zeigt, reicht nicht aus.
before-you-are-close-to-your-low = Du bist mit { $amount } nahe an deiner unteren Grenze. Was du isst, steht im Plan deines Teams für den Abend.
before-glucose-is-see-where-it-settles = Der Zucker { $movement }. Sieh, wo er sich fängt, bevor du schläfst.
before-rapid-insulin-acts-until-about-a = Schnelles Insulin wirkt bis etwa { $until }. Frag dann noch einmal.
before-alcohol-lowers-late-until-the-next = Alkohol senkt spät, bis zum nächsten Mittag, und verdeckt die Zeichen. Iss dazu, sag es jemandem, lass den Alarm laut.
before-your-lows-begin = In { $nights } deiner letzten { $of_nights } Nächte begann eine Unterzuckerung zwischen { $from } und { $to }.
before-you-moved-for-minutes-in-the = Du hast dich im letzten Tag { $minutes } Minuten bewegt. Das senkt bis in die Nacht; was zu tun ist, steht im Plan deines Teams.
before-you-were-low-in-the-last = Du warst in den letzten 24 Stunden zu tief (tiefster Wert { $amount }). Die nächste Unterzuckerung ist eher da und weniger zu spüren.
before-severe-signs-within-a-day = Du hast in den letzten 24 Stunden Zeichen einer schweren Unterzuckerung notiert. Die nächste ist eher da und weniger zu spüren: Sag jemandem Bescheid.
before-you-are-ill = Du hast Krankheit notiert: Miss Glukose und Ketone alle paar Stunden, auch in der Nacht, und folge deinem Plan für Krankheitstage.
before-you-vomit = Du hast Erbrechen notiert: Was du isst, bleibt vielleicht nicht drin. Miss Glukose und Ketone alle paar Stunden, auch in der Nacht, und folge deinem Plan für Krankheitstage.
before-do-not-drive-get-help = Fahr nicht. Hol Hilfe.
before-do-not-drive-treat-first = Fahr nicht: Behandle zuerst.
before-do-not-drive-after-severe-low = Fahr nicht: Du hast in den letzten 24 Stunden Zeichen einer schweren Unterzuckerung eingetragen. Frag dein Behandlungsteam, wann du wieder fahren darfst; die Regeln deines Landes können eine Meldung verlangen.
before-check-with-a-meter-before-you-2 = Miss am Finger, bevor du fährst.
before-do-not-drive-before-you-were = Fahr frühestens um { $until }: Du warst zu tief, hast dich so gefühlt oder etwas dagegen genommen. Miss dann noch einmal.
before-eat-something-first-then-check-again = Iss zuerst etwas und miss dann noch einmal: Das ist weniger, als die Regel verlangt.
before-a-low-on-the-way-is = Unterwegs ist eine Unterzuckerung wahrscheinlich. Tu zuerst etwas dagegen und miss noch einmal, bevor du fährst.
before-do-not-drive-insulin-to-come = Fahr noch nicht los: Es ist mehr Insulin eingetragen, als gegessen wurde, und es kann dich in die Unterzuckerung bringen. War es für eine Mahlzeit, iss sie, oder trag sie ein, wenn du gegessen hast. Iss zuerst etwas und miss dann noch einmal.
before-do-not-drive-on-alcohol = Fahr nicht mit Alkohol: Du hast in den letzten Stunden welchen notiert, und er senkt den Zucker noch stundenlang.
before-do-not-drive-sick-day-first = Fahr noch nicht los: Krankheit oder Ketone gehen vor. Folge deinem Plan für kranke Tage, und fahr, wenn das erledigt ist.
before-your-glucose-meets-the-rule-now = Dein Zucker erfüllt jetzt die Regel. Ob du fährst, entscheidest du.
before-nothing-seen-now-speaks-against-it = Nichts von dem, was jetzt zu sehen ist, spricht gegen das Fahren. Ob du darfst, bestimmen die Regeln bei dir.
before-more-than-to-drive-at-or = Zum Fahren mehr als { $eat }. Bei { $eat } oder weniger: erst etwas essen.
before-below-or-feeling-low-do-not = Unter { $not_below } oder bei Zeichen einer Unterzuckerung: nicht fahren.
before-check-less-than-hours-before-you = Weniger als { $hours } Stunden vor der Fahrt messen und unterwegs alle { $hours } Stunden.
before-after-a-low-wait-until-glucose = Nach einer Unterzuckerung warten, bis der Zucker { $after } Minuten lang wieder normal ist.
before-source-driver-and-vehicle-licensing-agency = Quelle: Driver and Vehicle Licensing Agency (Vereinigtes Königreich), Blatt INF294, für Autos und Motorräder. Für Busse und Lastwagen gelten strengere Regeln.
before-to-g = { $least } bis { $most } g
before-published-starting-point-of-glucose-your = Veröffentlichter Ausgangspunkt: { $range } Glukose. Der Plan deines Teams geht vor.
before-you-were-low-in-the-last-2 = Du warst in den letzten 24 Stunden zu tief (tiefster Wert { $amount }): nicht allein, und nicht dort, wo eine Unterzuckerung gefährlich ist, etwa im Wasser.
before-rapid-insulin-was-taken-movement-makes = Schnelles Insulin wurde { $ago } genommen. Bewegung lässt es stärker senken.
before-alcohol-and-movement-both-lower = Alkohol und Bewegung senken beide den Zucker für Stunden, und Alkohol verdeckt die Zeichen. Iss dazu, sei nicht allein unterwegs, und sieh oft nach.
before-glucose-is-already-steady-movement-takes = Der Zucker { $movement }, und gleichmäßige Bewegung senkt ihn weiter.
before-this-is-below-the-range-published = Das liegt unter dem Bereich, der für dein Risiko von Unterzuckerungen veröffentlicht ist.
before-ketones-of-mmol-l-are-raised = Ketone von { $amount } mmol/L sind erhöht. Miss sie wieder, und folge deinem Plan für kranke Tage.
before-less-than-minutes = Weniger als { $minutes } Minuten.
before-movement-in-the-evening-lowers-into = Bewegung am Abend senkt bis in die Nacht: Frag vor dem Schlafen noch einmal.
before-endurance = Ausdauer
before-intervals = Intervalle
before-strength = Kraft
before-low-risk-of-lows = geringes Risiko
before-moderate-risk-of-lows = mittleres Risiko
before-high-risk-of-lows = hohes Risiko
before-if-a-low-comes-half-of = Wenn eine Unterzuckerung kommt, dann in der Hälfte der Fälle zwischen { $from } und { $to }. Dein Alarm kommt nachts unter { $rings }.
before-before-sleep = Vor dem Schlafen
before-until = Bis { $until }
before-what-makes-a-low-likelier-tonight = Was eine Unterzuckerung heute Nacht wahrscheinlicher macht
before-no-rule-for-is-known-here = Für { $country } ist hier keine Regel bekannt. Die Regeln bei dir gehen allem hier vor.
before-no-country-is-set-so-no = Es ist kein Land gesetzt, also ist hier keine Regel bekannt. Die Regeln bei dir gehen allem hier vor.
before-stop-and-check-at-at-the = Halt an und miss spätestens um { $at }.
before-before-driving = Vor dem Fahren
before-over-the-drive = Während der Fahrt, { $length }
before-the-rule = Die Regel
before-keep-fast-carbohydrate-and-a-meter = Halte schnelle Kohlenhydrate und ein Messgerät in Reichweite. Bei Zeichen unterwegs: halte an, sobald es sicher ist, und behandle.
before-to = { $from } bis { $to }
before-published-range-to-start-in = veröffentlichter Bereich zum Anfangen
before-the-chances-are-those-at-rest = Die Wahrscheinlichkeiten gelten in Ruhe: Was die Bewegung dazutut, ist nicht bekannt, und gleichmäßige Bewegung macht eine Unterzuckerung wahrscheinlicher.
before-before-movement = Vor der Bewegung
before-what-to-mind = Worauf zu achten ist
before-these-are-published-starting-points-your = Das sind veröffentlichte Ausgangspunkte; der Plan deines Teams geht vor. Quelle: Riddell et al., Lancet Diabetes Endocrinol 2017;5:377-390; Moser et al., Diabetologia 2020;63:2501-2520.
before-feeling-low-counts-more-than-any = Zeichen einer Unterzuckerung zählen mehr als jede Zahl hier. Wie viel Insulin du nimmst, steht nicht hier: Das sagen dein Plan und dein Behandlungsteam.
before-now = jetzt
before-for-everybody = üblich { $everybody }
before-chance-of-a-reading-below = Wahrscheinlichkeit eines Werts unter { $line }
before-nothing-was-learnt-of-your-own = Aus deinen eigenen Nächten wurde noch nichts gelernt: Die Zahlen sind die üblichen.
before-of-your-own-last-nights-with = Von deinen letzten { $nights } Nächten mit genug Werten hatten { $low } einen unter { $below } und { $floor } einen unter { $far_below }.
before-these-chances-are-everybody-s-your = Die Zahlen sind die üblichen: Deine eigenen zählen ab { $nights } Nächten.
before-these-chances-are-everybody-s-correcting = Die Zahlen sind die üblichen: Sie nach deinen Nächten zu ändern, war an späteren Nächten nicht besser.
before-beyond-six-hours-they-are-carried = Über sechs Stunden hinaus sind sie im gleichen Maß fortgesetzt.
before-minutes = { $minutes } Minuten
before-hours = { $hours } Stunden

## forms

form-before-until = Bis
form-before-minutes = Wie lange
form-before-kind = Welche Art
form-before-effort = Wie anstrengend
form-before-ketones = Ketone im Blut, falls gerade gemessen
form-before-feels = Was du gerade spürst
form-settings-lines = Grenzen
form-settings-whom-to-call = Wen anrufen
form-settings-feels-lows = Spürst du tiefe Werte rechtzeitig?
form-settings-alone = Bist du meist allein, ohne jemanden, der helfen könnte?
form-settings-costs-why = Wer tiefe Werte nicht immer spürt oder allein ist, für den wiegt ein verpasster tiefer Wert schwerer: Aufforderungen zu behandeln kommen früher, und mehr davon sind unnötig. Besprich das mit deinem Behandlungsteam.
form-settings-yes = Ja
form-settings-no = Nein
form-settings-morning = Du stehst auf
form-settings-factors = Faktoren
form-settings-shown = Land, Einheit, Sprache
form-settings-country = Land, zwei Buchstaben, etwa DE oder GB
form-settings-country-why = Für die Regeln vor einer Fahrt. Bleibt es leer, ist keine Regel bekannt.
form-log-kind = Was du eintragen willst
form-log-meter = Blutzucker gemessen
form-log-rescue = Schnelle Kohlenhydrate bei Unterzuckerung
form-log-rapid = Schnelles Insulin
form-log-meal = Kohlenhydrate einer Mahlzeit
form-log-long-acting = Langzeitinsulin
form-log-feels = Was du spürst
form-log-activity = Bewegung
form-log-ketones = Ketone im Blut
form-log-illness = Krankheit
form-log-alcohol = Alkohol
form-log-sleep = Schlaf
form-log-sensor = Sensor
form-log-note = Notiz
form-log-amount = Einen Wert
form-log-too-low = Zu tief zum Messen (LO)
form-log-too-high = Zu hoch zum Messen (HI)
form-log-drinks = Wie viele Gläser
form-log-drink-is = Ein Glas enthält etwa { $grams } g Alkohol: ein Viertelliter Bier oder ein Zehntelliter Wein.
form-log-how-ill = Wie krank du bist
form-log-ill = Krank: Fieber, ein Infekt oder du fühlst dich schlecht
form-log-vomiting = Du erbrichst oder behältst nichts bei dir
form-log-well-again = Wieder gesund
form-log-activity-what = Was du gemacht hast, etwa Spazierengehen
form-log-sensor-what = Was war
form-log-warmed-up = Seine Aufwärmzeit ist vorbei
form-log-fault = Etwas stimmte nicht mit ihm
form-log-rated-days = Tage, für die er zugelassen ist
form-log-asleep = Eingeschlafen um
form-log-awake = Aufgewacht um
form-log-happened = Wann es war
form-log-choose = Wähl eins davon aus.
form-log-above-0 = Gib einen Wert über 0 und bis zu { $high } { $unit } an.
form-log-sleep-length = Das Aufwachen muss nach dem Einschlafen kommen, höchstens 24 Stunden später.
form-log-unchanged = Es wurde nichts geändert.
form-clock-hour = 1 h
form-clock-earlier = { $length } früher: { $name }
form-clock-later = { $length } später: { $name }

## words/dates

date = { $day }. { $month } { $year }
date-day-and-month = { $day }. { $month }
date-time = { $date }, { $clock }
date-weekday = { $weekday }, { $date }
weekday-mon = Montag
weekday-tue = Dienstag
weekday-wed = Mittwoch
weekday-thu = Donnerstag
weekday-fri = Freitag
weekday-sat = Samstag
weekday-sun = Sonntag
month-1 = Jan.
month-2 = Feb.
month-3 = März
month-4 = Apr.
month-5 = Mai
month-6 = Juni
month-7 = Juli
month-8 = Aug.
month-9 = Sept.
month-10 = Okt.
month-11 = Nov.
month-12 = Dez.
