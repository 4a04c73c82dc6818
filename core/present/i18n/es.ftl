## the language itself

language-name = Español
language-draft = borrador, sin revisar
number-decimal-mark = ,
number-group-mark = .

## sentences/supplies

supplies-order-now = Pide ahora.
supplies-order-by = Pide a más tardar el { $day }.
supplies-how-much-there-never-noted = Cantidad desconocida: cuéntala una vez y anótala.
supplies-there-counted = { $amount } disponibles: tu recuento del { $day }, más lo recibido, menos lo usado.
supplies-usable-there = Hay { $amount } utilizables; caducados: { $expired }.
supplies-there-by-what-noted-as = Hay { $amount }, según lo anotado como recibido.
supplies-more-used-than-ever-noted = Se han gastado { $short } más de lo que nunca se anotó que había: vuelve a contar.
supplies-how-fast-goes-not-known = Aún no se sabe a qué ritmo se gasta: lo mostraría una semana de anotaciones, o dos recuentos con dos semanas entre ellos.
supplies-open = sin definir
supplies-runs-out-about-nine-times = Se acaba hacia el { $expected } (nueve de cada diez veces, del { $earliest } al { $until }).
supplies-runs-out-about = Se acaba hacia el { $expected }.
supplies-lot = lote
supplies-expired-on-do-not-use = { $amount }{ $lot } caducó el { $day }: no lo uses y anótalo como desechado.
supplies-good-until-about-will-not = { $amount }{ $lot } caduca el { $day }; hasta entonces no se gastarán unos { $left }.
supplies-good-until-use-first = { $amount }{ $lot } caduca el { $day }: úsalo primero.
supplies-units = unidades
supplies-day = { $amount }{ $space }{ $unit } al día
supplies-sensor-lasts-days-on-average = Un sensor dura { $mean } días de media (desviación estándar { $sd }).
supplies-ended-early-or-had-fault = { $hits } de { $of } terminaron antes de tiempo o tuvieron un fallo (95 %: de { $low } a { $high } %).
supplies-reckoned-with-rated-days-sensor = Calculado con los { $days } días previstos por sensor, hasta que hayan terminado dos.
supplies-from-days-log-what-used = { $a_day }, según { $days } días del registro; el uso que no se anotó no se cuenta.
supplies-from-your-counts = { $a_day }, según tus recuentos.
supplies-nothing-noted-on-days = En { $days } días no se anotó nada: el consumo se calcula sin ellos, y se da por gastado lo mismo que en otros días.
supplies-offered = ofrecido
supplies-paid = pagado
supplies-unit = { $each } por unidad
supplies-gram = { $each } por gramo
supplies-each = { $each } cada uno
supplies-day-wear-year = { $a_day } por día de uso, { $a_year } al año
supplies-day-year = { $a_day } al día, { $a_year } al año
supplies-use-not-known-yet = consumo aún desconocido
supplies-from-to-sensor-readings-covering = Del { $from } al { $until }: { $readings } { $readings ->
    [one] lectura del sensor, que cubre
   *[other] lecturas del sensor, que cubren
    } el { $share } % del tiempo.
supplies-as-logged-meter-checks-and = Según lo anotado: { $checks } mediciones con el medidor y { $doses } dosis de insulina al día.
supplies-glucose-below-for-quarter-hour = La glucosa estuvo por debajo de { $low } durante un cuarto de hora o más { $lows } { $lows ->
    [one] vez
   *[other] veces
    }, { $night } de ellas de noche, y por debajo de { $floor } { $serious } { $serious ->
    [one] vez
   *[other] veces
    }.
supplies-meter-checks-below = Mediciones con el medidor por debajo de { $low }: { $count }.
supplies-of = { $hits } de { $of }
supplies-with-sensors-data-alert-at = Con los datos del sensor, una alerta en los límites fijados habría saltado en { $warned } de estas hipoglucemias; en { $announced }, al menos { $notice_minutes } min antes de que empezaran.
supplies-before-those-went-below-middle = Antes de las que bajaron de { $floor }, la antelación mediana del aviso fue de { $minutes } min (los hidratos de rescate tardan unos { $notice_minutes } min en actuar).
supplies-without-sensors-data-log-shows = Sin los datos del sensor, el registro muestra una medición con el medidor por debajo de { $low }, o que se notó, en { $seen } de ellas.
supplies-at-night = De noche son { $seen }.
supplies-signs-need-another-persons-help = Se anotaron { $severe } { $severe ->
    [one] vez
   *[other] veces
    } signos que requieren la ayuda de otra persona.
supplies-what-felt-or-measured-and = Lo que se notó o se midió y no se anotó no está en estas cifras.

## sentences/alerts

alerts-of-2 = { $count } de { $all } alertas
alerts-alerts-by-day-day = alertas de día, por día
alerts-alerts-by-night-night = alertas de noche, por noche
alerts-lost-signal = sin lecturas
alerts-something-logged-within = algo anotado en los { $minutes } min siguientes
alerts-resolved-without-action = resueltas sin hacer nada
alerts-them-at-night-sleep-broken = de noche, resueltas sin hacer nada
alerts-lows-with-alert = hipoglucemias con alerta
alerts-before-low-began = hipoglucemias con alerta antes de empezar
alerts-of = { $noticed } de { $lows }
alerts-notice-before-them-middle-one = antelación mediana antes de una hipoglucemia
alerts-none-to-tell = ninguna
alerts-sensor-reads-below = El sensor marca menos de { $floor }, o la glucosa es demasiado baja para medirla.
alerts-sensor-reads-below-your-low = El sensor marca menos que tu límite bajo.
alerts-readings-fall-fast = Las lecturas bajan rápido.
alerts-no-reading-comes-from-sensor = No llega ninguna lectura del sensor.
alerts-sensor-reads-above-your-high = El sensor marca más que tu límite alto.
alerts-readings-rise-fast = Las lecturas suben rápido.
alerts-rang-at = Esta alerta sonó a las { $clock }.
alerts-low-repeats = Una hipoglucemia que dura y a la que nadie responde se avisa de nuevo cada { $minutes } min, { $times } veces como máximo.
alerts-you-act-on-highs-at = Actúas ante la glucosa alta hacia { $acts } ({ $count } veces), y la alerta salta en { $line }. Con la alerta en { $at } habría { $after } alertas al día, no { $before }. Háblalo con tu equipo sanitario.
alerts-high-only-once-has = Si la alerta de glucosa alta saltara solo cuando dura { $minutes } min, habría { $after } alertas de glucosa alta en vez de { $before }, y { $then } despertares innecesarios en vez de { $woken }. Las de hipoglucemia saltarían como antes. Háblalo con tu equipo sanitario.
alerts-plan-kept = Alertas desde ahora: { $now }. Antes: { $before }.
alerts-plan-day-and-night = de día { $day }, de noche { $night }
alerts-plan-below = por debajo de { $low }
alerts-plan-below-and-above = por debajo de { $low } y por encima de { $high }

## sentences/outcomes

outcomes-no-prompt-kept-in-time = No se guardó ninguna indicación en este tiempo. Cada una que se te muestra sobre el presente se guarda, para que aquí puedas ver en qué acabó; las pedidas sobre un momento pasado, no.
outcomes-prompts-shown-those-said-same = { $prompts ->
    [one] Se mostró 1 indicación.
   *[other] Se mostraron { $prompts } indicaciones; contando una sola vez las que decían lo mismo seguidas, { $decisions }.
    }
outcomes-holds-never-went-below-within = De { $of } { $of ->
    [one] espera
   *[other] esperas
    }, { $stayed } no { $stayed ->
    [one] bajó
   *[other] bajaron
    } de { $line } en { $after_minutes } min { $interval }.
outcomes-chance-low-within-half-hour = La probabilidad de hipoglucemia en media hora que se mostró junto a ellas fue de { $chance } de media.
outcomes-those-did-with-lowest-reading = Las que sí bajaron, con la lectura más baja: { $those }.
outcomes-holds-more-carbohydrate-logged-within = En { $of } { $of ->
    [one] espera
   *[other] esperas
    } más se anotaron hidratos en { $within } de todos modos; { $above } pasaron de { $high } en 2 h. No se sabe en qué habría acabado esperar.
outcomes-prompts-to-treat-carbohydrate = De { $of } { $of ->
    [one] indicación
   *[other] indicaciones
    } de tratar, tras { $treated } se anotaron hidratos en { $within }; { $low } { $low ->
    [one] bajó
   *[other] bajaron
    } de { $line }, y { $above } pasaron de { $high } en 2 h.
outcomes-prompts-to-check-meter = De { $of } { $of ->
    [one] indicación
   *[other] indicaciones
    } de medir, tras { $metered } se usó un medidor en { $within }, y marcó menos de { $line } en { $low }; el sensor bajó de ahí en { $later }.
outcomes-falls-waited = En { $of } { $of ->
    [one] bajada
   *[other] bajadas
    } con los dos futuros a la vista no comiste nada: { $low } { $low ->
    [one] bajó
   *[other] bajaron
    } de { $line } en una hora. La probabilidad mostrada de eso era de { $waiting } si esperas, { $treating } si tratas.
outcomes-falls-treated = En { $of } tomaste hidratos: { $low } { $low ->
    [one] bajó
   *[other] bajaron
    } de { $line } en una hora, { $above } pasaron de { $high } en 2 h. La probabilidad mostrada de la hipoglucemia era de { $treating } si tratas, { $waiting } si esperas.
outcomes-other-choice-not-known = Donde la proporción que ocurrió se acerca a la probabilidad mostrada, puedes fiarte de los futuros; lo que la otra opción habría traído en una bajada concreta no se sabe.
outcomes-more-not-seen-what-came = { $unseen ->
    [one] De una de ellas no se ve en qué acabó: faltan lecturas o la hora no ha terminado.
   *[other] De { $unseen } de ellas no se ve en qué acabaron: faltan lecturas o la hora no ha terminado.
    }
outcomes-none-them-about-fall-can = { $prompts ->
    [one] No trataba de una bajada que se pueda seguir hasta el final.
   *[other] Ninguna trataba de una bajada que se pueda seguir hasta el final.
    }
outcomes-what-done-and-not-logged = Lo que se hizo y no se anotó no se ve aquí.
outcomes-95-to = (95 %: de { $low } a { $high } %)
outcomes-of = { $hits } de { $of }

## sentences/bluetooth

bluetooth-field-octets-begins-here-and = aquí empieza un campo de { $needs } bytes y quedan { $has }
bluetooth-octets-left-over = sobran { $extra } bytes
bluetooth-record-says-has-octets-its = el registro dice que tiene { $said } bytes; según sus marcas son { $needs }
bluetooth-checksum-and-should-be-ask = la suma de comprobación es { $sent } y debería ser { $computed }; vuelve a pedir el registro
bluetooth-no-code-field = { $given } no es un código de este campo
bluetooth-no-such-date-or-time = no existe esa fecha u hora
bluetooth-device-does-not-know-date = el dispositivo no sabe la fecha; pon en hora su reloj
bluetooth-0x-octet = { $name } (0x{ $uuid }), byte { $octet }: { $why }
bluetooth-device-sent-no-number = el dispositivo no envió ningún número
bluetooth-amount-outside-what-log-takes = el valor está fuera de lo que admite un registro: mide con el medidor
bluetooth-sensors-session-stopped = se detuvo la sesión del sensor
bluetooth-device-does-not-take-kind = el dispositivo no admite este tipo de sensor o de tira
bluetooth-device-says-does-not-work = el dispositivo dice que no funciona como debe: guíate por un medidor
bluetooth-too-warm-for-valid-result = hacía demasiado calor para un resultado válido
bluetooth-too-cold-for-valid-result = hacía demasiado frío para un resultado válido
bluetooth-too-little-blood-or-strip = muy poca sangre, o la tira se puso mal o se sacó demasiado pronto: vuelve a medir
bluetooth-devices-clock-not-set-or = el reloj del dispositivo no está en hora o puede estar mal: ponlo en hora
bluetooth-time-lies-ahead-phones-clock = la hora va por delante del reloj de este teléfono: compara los dos
bluetooth-time-lies-outside-years-2000 = la hora está fuera de los años 2000 a 2199: pon en hora el reloj del dispositivo
bluetooth-control-solution-measured-no-blood = se midió una solución de control, no sangre
bluetooth-meter-does-not-say-blood = el medidor no dice que se midiera sangre
bluetooth-record-holds-no-amount = el registro no contiene ningún valor
bluetooth-what-came-with-belongs-to = lo que venía con él pertenece a otra medición
bluetooth-amount-carbohydrate-nobody-eats = una cantidad de hidratos que nadie come
bluetooth-insulin-in-kilograms-or-litres = insulina en kilogramos o litros: anota las unidades a mano
bluetooth-movement-without-its-time-note = actividad sin su hora: anótala a mano
bluetooth-hba1c-meal-marks-and-remarks = la HbA1c, las marcas de comida y las observaciones sobre la salud no tienen sitio en el registro
bluetooth-not-in-log-2 = No está en el registro: { $said }.
bluetooth-not-in-log = { $clock }, no está en el registro: { $said }.
bluetooth-devices-battery-low = La batería del dispositivo está baja.
bluetooth-sensor-asks-to-be-calibrated = El sensor pide que lo calibres.
bluetooth-device-has-something-to-say = El dispositivo tiene algo que decir: míralo.
bluetooth-clock-showed-time-twice-night = El reloj marcó esta hora dos veces esa noche; se tomó la primera.
bluetooth-clocks-had-gone-forward-over = Los relojes se habían adelantado sobre esta hora; el del medidor, no.
bluetooth-too-low-for-device-to = Demasiado baja para que el dispositivo la mida: mide ahora con el medidor; si dudas y no tienes medidor a mano, trata como si fuera una hipoglucemia.
bluetooth-too-high-for-device-to = Demasiado alta para que el dispositivo la mida: mide con el medidor.
bluetooth-not-from-finger-when-glucose = No es de un dedo: cuando la glucosa cambia rápido, esa sangre va con retraso.

## sentences/fhir

fhir-no-json-or-file-ends = esto no es JSON, o el archivo termina antes de tiempo; FHIR en XML no se lee
fhir-json-and-no-fhir-bundle = esto es JSON y no un Bundle de FHIR
fhir-about-people-glucose-several-must = trata de { $count } personas; la glucosa de varias no debe acabar en un mismo registro, así que di cuál se toma
fhir-person-asked-for-not-in = la persona pedida no está en él
fhir-one-resource-in-larger-than = un recurso ocupa más de { $most_megabytes } MB, y ninguno de los que se leen aquí llega a eso
fhir-not-final = no es definitivo
fhir-withdrawn-at-source = se retiró en su origen, y tu registro lo contiene; retíralo ahí si nunca fue
fhir-amended-at-source = se cambió en su origen, y tu registro contiene lo que decía antes; quedan los dos y cuenta el más bajo, así que retira el que esté mal
fhir-there-no-time = no hay hora
fhir-time-not-given-to-minute = la hora no está dada al minuto con su diferencia respecto a UTC
fhir-time-lies-outside-years-2000 = la hora está fuera de los años 2000 a 2199
fhir-time-lies-ahead-devices-clock = la hora va por delante del reloj de este dispositivo
fhir-there-no-number = no hay ningún número
fhir-says-less-than-what-could = dice menos de lo que se podía medir: un valor bajo sin su número
fhir-says-more-than-what-could = dice más de lo que se podía medir: un valor alto sin su número
fhir-value-outside-what-log-takes = el valor está fuera de lo que admite un registro
fhir-unit-not-known-here = aquí no se conoce la unidad
fhir-code-asks-for-another-unit = el código pide otra unidad que la del valor; no se puede saber cuál está mal
fhir-insulin-neither-rapid-acting-nor = la insulina no es solo rápida ni solo lenta
fhir-insulin-without-code = puede ser insulina, y ningún código ATC dice cuál; anótala a mano si se tomó
fhir-laboratory = un valor de laboratorio, tomado como medición con el medidor
fhir-part-missing-or-newer-version = falta una parte o es de una versión más nueva
fhir-modifier-not-known-here = lleva un modificador que aquí no se conoce y que puede cambiar lo que dice
fhir-name-stands-twice = un nombre figura dos veces; no se puede saber cuál de los dos vale
fhir-log-has-entry-with-another = el registro tiene esta anotación con otro contenido, que se conservó
fhir-would-correct-entry-log-correct = corregiría una anotación de este registro; corrígela a mano o fusiona los registros
fhir-contradicts-itself = se contradice a sí mismo
fhir-entry-left-out = entrada { $place }, { $element }: { $why }; omitida
fhir-entry-taken = entrada { $place }, { $element }: { $why }
fhir-and = { $entries } y { $figures }.
fhir-not-in = No incluye: { $left_out }.
fhir-bundle-carries-what-holds-what = Un Bundle lleva lo que vale. Lo corregido o retirado, tus ajustes y lo aprendido se quedan en el registro.
fhir-files-imported = que se importaron archivos ({ $count })
fhir-entries-taken-back = que se retiraron anotaciones ({ $count })
fhir-reviews-figures-too-few-readings = las cifras de la revisión: muy pocas lecturas, o rangos distintos de 70 a 180 mg/dL

## sentences/health

health-unclear = { $count ->
    [one] 1 valor no dice si lo midió un sensor o un medidor: se guarda como lectura de sensor.
   *[other] { $count } valores no dicen si los midió un sensor o un medidor: se guardan como lecturas de sensor.
    }
health-left-out = { $count ->
    [one] 1 valor de los datos de salud no está en el registro: su cantidad o su hora no puede ser, o no se midió ni en sangre ni en tejido. Mide con el medidor.
   *[other] { $count } valores de los datos de salud no están en el registro: su cantidad o su hora no puede ser, o no se midieron ni en sangre ni en tejido. Mide con el medidor.
    }

## sentences/merge

merge-nothing-would-change-everything-in = No cambiaría nada: todo lo que contiene ya está en tu registro.
merge-in-your-log-already-and-2 = Ya está en tu registro y no se duplica: { $known }.
merge-other-than-same-sensor-said = Distinto de lo que dijo el mismo sensor a la misma hora: { $differ }. Se conservan ambos; cuenta el más bajo.
merge-new-to = Nuevo: { $parts }, del { $first } al { $last }.
merge-corrects-and-takes-back = Corrige { $corrections } y retira { $retractions }.
merge-what-holds-in-your-log = De lo que ahora vale en tu registro, { $both } dejarían de valer; se pueden seguir leyendo.
merge-and-more = y { $more } más
merge-two-logs-share-too-little = Los dos registros comparten muy poco tiempo para ver por sus lecturas si ambos son tuyos.
merge-at-shared-times-readings-differ = En { $differing } de { $compared } momentos comunes las lecturas difieren en más de { $bound } (por encima de { $level }: { $percent }).
merge-and = { $readings } y { $others }
merge-looks-like-somebody-elses-log = Parece el registro de otra persona: en { $differing } de { $compared } momentos comunes sus lecturas no encajan con las tuyas. Las indicaciones hechas con lecturas de dos personas son peligrosas.
merge-recorded-later-than-devices-clock = Registrado más tarde de lo que marca el reloj de este dispositivo: { $entries }. Compara los relojes de ambos dispositivos; si ninguno está mal, alguien cambió el archivo.
merge-in-your-log-already-and = Ya está en tu registro y dice otra cosa en este: { $entries }. Ebbstead nunca cambia una anotación, así que alguien cambió el archivo.
merge-would-take-back-much-your = Retiraría gran parte de tu registro: { $readings }. Solo es correcto si las retiraste tú en el otro dispositivo, por ejemplo un archivo importado por error.
merge-brought-back-with-your-settings = Recuperado: { $all }, con tus ajustes y lo aprendido.
merge-taken-in = Incorporado: { $new }.
merge-settings-and-what-learnt-stay = Los ajustes y lo aprendido se quedan como están aquí; aprende de nuevo para aprender de todo.
merge-saved = Rescatado: { $both }.
merge-your-settings-among = Tus ajustes están incluidos.
merge-settings-found-look-whether-they = Se encontraron ajustes; comprueba si son los que tenías.
merge-no-settings-found-set-your = No se encontraron ajustes: vuelve a fijar tu unidad, tus límites y tus factores.
merge-not-readable-and-lost-perhaps = Ilegible y perdido: { $rows }, quizá otras cosas además.
merge-perhaps-under-wrong-name-taking = Quizá con un nombre equivocado: { $sources }. Incorporar el registro de otro dispositivo puede duplicar sus lecturas.

## sentences/review

review-hours-readings = { $need ->
    [one] hora de lecturas
   *[other] horas de lecturas
    }
review-days-worth-readings = { $need ->
    [one] día completo de lecturas
   *[other] días completos de lecturas
    }
review-days-covered-by-70 = { $need ->
    [one] día cubierto al 70 %
   *[other] días cubiertos al 70 %
    }
review-hours-with-readings-day-before = { $need ->
    [one] hora con lecturas un día antes
   *[other] horas con lecturas un día antes
    }
review-days-with-readings-at-hour = { $need ->
    [one] día con lecturas a esta hora
   *[other] días con lecturas a esta hora
    }
review-meter-checks-beside-readings = { $need ->
    [one] medición con el medidor junto a lecturas
   *[other] mediciones con el medidor junto a lecturas
    }
review-not-enough-data-have-need = datos insuficientes: { $have } de { $need } { $of }
review-day = { $length } al día
review-in-range-to = En rango, de { $low } a { $high }
review-below-2 = Por debajo de { $low }
review-below = de ello, por debajo de { $floor }
review-above-2 = Por encima de { $high }
review-above = de ello, por encima de { $very_high }
review-consensus-aim-over = objetivo del consenso: más del { $percent } %
review-consensus-aim-under = objetivo del consenso: menos del { $percent } %
review-reached = alcanzado
review-within-your-own-lines-to = Dentro de tus límites, de { $low } a { $high }
review-below-above = { $below } % por debajo, { $above } % por encima
review-small = bajo
review-moderate = moderado
review-high = alto
review-mean = Media
review-glucose-management-indicator-gmi = Indicador de gestión de la glucosa (GMI)
review-mmol-mol-laboratorys-a1c-can = { $gmi_mmol_mol } mmol/mol; la A1C de un laboratorio puede ser distinta
review-mmol-mol-no-a1c-in-pregnancy = { $gmi_mmol_mol } mmol/mol; en el embarazo no sustituye con precisión a la A1C de un laboratorio
review-standard-deviation = Desviación estándar
review-coefficient-variation = Coeficiente de variación
review-stable-up-to-consensus = estable hasta el { $stable_cv_percent } % (consenso)
review-low-blood-glucose-index-lbgi = Índice de glucosa baja (LBGI)
review-high-blood-glucose-index-hbgi = Índice de glucosa alta (HBGI)
review-bands-made-for-meter-checks = franjas hechas para mediciones con el medidor
review-glycemia-risk-index-gri = Índice de riesgo glucémico (GRI)
review-0-best-100-worst-zones = 0 el mejor, 100 el peor; zonas A a E
review-swings-within-day-mage = Oscilaciones en un mismo día (MAGE)
review-differences-from-day-to-day = Diferencias de un día a otro (MODD)
review-j-index = Índice J
review-to-readings-on-dates-cover = Del { $from } al { $until }: { $readings } { $readings ->
    [one] lectura
   *[other] lecturas
    } en { $dates } { $dates ->
    [one] fecha
   *[other] fechas
    } { $readings ->
    [one] cubre
   *[other] cubren
    } el { $share } % { $whole ->
    [1] del día
   *[other] de { $days } días
    }. El hueco más largo es de { $gap }.
review-gap-hours = { $hours } h
review-h-in-which-sensor-pressed = Se omiten { $hours } h en las que el sensor estuvo presionado.
review-too-low-or-too-high = { $readings } demasiado bajas o altas para medirlas: cuentan como por debajo o por encima del rango; la media, la desviación estándar y el GMI se calculan con el límite.
review-two-sensors-worn-at-once = Se llevaron dos sensores a la vez: { $count } { $count ->
    [one] lectura de { $name } no se usa
   *[other] lecturas de { $name } no se usan
    } aquí.
review-your-clock-put-on-or = Tu reloj se adelantó o se atrasó { $changes } (viaje u horario de verano); las horas son las que marcaba.
review-consensus-judges-by-14-days = El consenso valora con 14 días cubiertos al 70 %; esto es menos, así que toma las cifras como una muestra.
review-you-in-range-time-below = Estuviste en rango el { $in_range } % del tiempo, por debajo el { $below } %, por encima el { $above } %.
review-much-like-time-before = Es muy parecido al periodo anterior.
review-points-more-in-range-than = Son { $size } puntos más en rango que en el periodo anterior.
review-points-less-in-range-than = Son { $size } puntos menos en rango que en el periodo anterior.
review-above-you-longest-lasted-h = Por encima de { $line } estuviste { $count }; la más larga duró { $hours } h.
review-readings-cover-time = Las lecturas cubren el { $share } % del tiempo.
review-no-low-lasted-quarter-hour = Ninguna hipoglucemia duró un cuarto de hora.
review-readings-too-far-apart = la mayoría de las lecturas no tiene otra a menos de 20 minutos
review-no-swing = ninguna oscilación mayor que la desviación típica del día
review-lows-not-known = No se pueden contar las hipoglucemias que duraron: { $why }.
review-you-low-them-at-night = Tuviste la glucosa baja { $count }, { $at_night } de ellas de noche; { $serious } se quedaron un cuarto de hora por debajo de { $floor }. La más larga duró { $length } ({ $when }).
review-once = una vez
review-twice = dos veces
review-times = { $count } veces
review-to = hasta { $furthest }
review-end-not-seen = , no se ve el final
review-min-before = { $what } { $minutes } min antes
review-rapid-insulin = insulina rápida
review-meal = una comida
review-rescue-carbohydrate = hidratos de rescate
review-movement = actividad
review-there-too-little-yet-to = Aún hay muy poco para buscar patrones.
review-pattern-none = Ninguna hora, comida, actividad, día de la semana ni día del sensor destaca más de lo que daría el azar ({ $looks } búsquedas, contadas como una sola pregunta).
review-pattern-how-looked = { $looks } búsquedas cuentan como una sola pregunta (prueba de permutación): de los registros sin ningún patrón, como mucho 1 de cada 20 muestra uno aquí. Se nombran las horas en que más se vio. Un patrón es un motivo para mirar esos días, no una prueba.
review-pattern-sure = Sin un patrón serían unos { $expected }; el azar por sí solo da algo tan claro en { $chance } de los registros. Días que mirar: { $dates }.
review-pattern-low-nights = En { $hits } de { $of } noches tuviste la glucosa baja entre las { $from } y las { $until }.
review-pattern-low-days = En { $hits } de { $of } días tuviste la glucosa baja entre las { $from } y las { $until }.
review-pattern-high-nights = En { $hits } de { $of } noches tuviste la glucosa alta entre las { $from } y las { $until }.
review-pattern-high-days = En { $hits } de { $of } días tuviste la glucosa alta entre las { $from } y las { $until }.
review-pattern-low-worst = En { $serious } de ellos bajó de { $floor }; la más larga duró { $minutes } min.
review-pattern-low-movement = En { $hits } de { $of } días con actividad empezó una hipoglucemia durante ella o en las 12 h siguientes.
review-pattern-low-first-day = Empezó una hipoglucemia en { $hits } de { $of } primeros días de un sensor.
review-pattern-high-first-day = Más de un cuarto del tiempo estuvo alta en { $hits } de { $of } primeros días de un sensor.
review-pattern-low-last-day = Empezó una hipoglucemia en { $hits } de { $of } últimos días de un sensor.
review-pattern-high-last-day = Más de un cuarto del tiempo estuvo alta en { $hits } de { $of } últimos días de un sensor.
review-pattern-low-weekends = Empezó una hipoglucemia en { $hits } de { $of } días de fin de semana.
review-pattern-high-weekends = Más de un cuarto del tiempo estuvo alta en { $hits } de { $of } días de fin de semana.
review-pattern-low-workdays = Empezó una hipoglucemia en { $hits } de { $of } días de lunes a viernes.
review-pattern-high-workdays = Más de un cuarto del tiempo estuvo alta en { $hits } de { $of } días de lunes a viernes.
review-pattern-low-weekday = Empezó una hipoglucemia en { $hits } de { $of } { $weekdays }.
review-pattern-high-weekday = Más de un cuarto del tiempo estuvo alta en { $hits } de { $of } { $weekdays }.
review-pattern-high-meals = Tras { $hits } de { $of } { $meals } empezó una hiperglucemia en 3 h.
review-pattern-low-meals = Tras { $hits } de { $of } { $meals } empezó una hipoglucemia en 4 h.
review-pattern-rebound = Tras { $hits } de { $of } hipoglucemias tratadas empezó una hiperglucemia en 2 h.
review-pattern-ask-night = Pregunta a tu equipo sanitario qué puede haber detrás: la insulina que actúa a esas horas, comidas tardías, o la actividad o el alcohol del día anterior.
review-pattern-ask-lows = Pregunta a tu equipo sanitario qué puede haber detrás: la insulina que actúa a esas horas, la comida anterior o la actividad.
review-pattern-ask-highs = Pregunta a tu equipo sanitario qué puede haber detrás: lo que se come antes, o la insulina que actúa a esas horas.
review-pattern-ask-movement = Pregunta a tu equipo sanitario cómo prepararte para la actividad y para la noche siguiente.
review-pattern-ask-sensor = Puede que entonces falle el propio sensor: esos días mide con el medidor, y enséñaselo a tu equipo sanitario.
review-pattern-ask-weekday = Busca qué es distinto esos días, y pregunta a tu equipo sanitario cómo organizarte.
review-pattern-ask-meals = Pregunta a tu equipo sanitario por estas comidas: qué se come, cómo se cuenta y cuándo se pone la insulina.
review-pattern-ask-rebound = Pregunta a tu equipo sanitario si la cantidad de hidratos que tomas contra una hipoglucemia es la adecuada.
review-pattern-mondays = lunes
review-pattern-tuesdays = martes
review-pattern-wednesdays = miércoles
review-pattern-thursdays = jueves
review-pattern-fridays = viernes
review-pattern-saturdays = sábados
review-pattern-sundays = domingos
review-pattern-morning-meals = comidas de la mañana
review-pattern-midday-meals = comidas del mediodía
review-pattern-evening-meals = comidas de la tarde-noche
review-pattern-night-meals = comidas de la noche

## sentences/sealed

sealed-sealed-and-read-back-to = Sellado y vuelto a leer: { $both }, del { $first } al { $last }; { $size } MB. Solo la frase de contraseña lo abre, y nadie puede recuperar una olvidada.

## sentences/sensor

sensor-warming-up = en calentamiento
sensor-in-its-first-day-unreliable = en su primer día: poco fiable, mide más a menudo con el medidor
sensor-worn = en uso
sensor-days-left = { $days ->
    [one] queda { $days } día
   *[other] quedan { $days } días
    } de { $rated }
sensor-worn-past-its-rated-length = puesto más tiempo del previsto: poco fiable, mide más a menudo con el medidor
sensor-ended = terminado
sensor-lot = lote
sensor-days = { $from }{ $site }: { $days } días, { $stage }{ $faults }
sensor-in-use = en uso
sensor-let-rest = , déjala descansar
sensor-rested-days = { $days } { $days ->
    [one] día
   *[other] días
    } de descanso{ $short }
sensor-sensors = { $uses } { $uses ->
    [one] sensor
   *[other] sensores
    }
sensor-failed = { $name }: { $rest }; { $sensors }, { $failures } con fallo
sensor-longest-rested = La que más ha descansado es { $name }.
sensor-none-has-rested-days-site = Ninguna ha descansado { $rest_days } días; una zona no usada hasta ahora sería más suave para la piel.
sensor-sites-outside-sensors-labelling-for = Las zonas fuera de las indicadas para el sensor las decidís tú y tu equipo sanitario.
sensor-worn-beside = { $name }, llevado al lado: { $agreement }
sensor-newest-alone = solo el sensor más nuevo: { $agreement }
sensor-95-to-2 = { $value } { $unit } (95 %: de { $low } a { $high })
sensor-checks-beside-readings-differences-sensor = { $pairs } mediciones junto a lecturas; las diferencias son sensor menos medidor
sensor-on-average = de media
sensor-with-sensors-lag-allowed-for = teniendo en cuenta el retraso del sensor
sensor-within-or = a menos de { $mg_dl } o del { $limit } %: { $share }
sensor-error-grid = cuadrícula de errores de { $name }
sensor-meter-low = medidor bajo
sensor-meter-in-range = medidor en rango
sensor-meter-high = medidor alto
sensor-looking-back-with-sensors-delay = mirando atrás, con el retraso del sensor quitado de sus lecturas ({ $pairs } mediciones): { $value } { $unit } (95 %: de { $low } a { $high }); { $mard }
sensor-mean-absolute-relative-difference-95 = diferencia relativa absoluta media { $value } % (95 %: de { $low } a { $high })
sensor-95-to = { $hits } de { $of } (95 %: de { $low } a { $high } %)
sensor-above = { $size } por encima de
sensor-below = { $size } por debajo de
sensor-not-to-be-judged-steady = No se puede valorar: hay { $have } { $have ->
    [one] medición
   *[other] mediciones
    } en estabilidad de las últimas { $hours } horas y hacen falta { $need }, con { $minutes } minutos entre ellas. Una sola nunca basta.
sensor-no-need-steady-checks-do = No hace falta: { $pairs } mediciones en estabilidad no muestran que el sensor se desvíe de forma constante más de { $mg_dl } o del { $limit } %.
sensor-sensor-reads-meter-but-now = El sensor marca { $off } lo que dice el medidor, pero ahora no es momento de calibrar: { $why }.
sensor-sensor-reads-meter-in-steady = El sensor marca { $off } lo que dice el medidor en { $pairs } mediciones en estabilidad, y ahora estás estable. Si tu sensor admite calibraciones, sigue sus instrucciones, con las manos limpias y secas.
sensor-sensor-in-its-first-day = el sensor está en su primer día
sensor-sensor-past-its-rated-length = el sensor lleva más tiempo del previsto
sensor-fault-noted-sensor-which-calibrating = hay un fallo anotado de este sensor, y calibrar no lo arregla
sensor-sensor-just-pressed = el sensor acaba de estar presionado
sensor-glucose-moving = la glucosa está cambiando
sensor-there-too-few-readings-just = ahora mismo hay muy pocas lecturas
sensor-you-ate-in-last-hours = has comido en las últimas { $hours } horas
sensor-you-took-rapid-insulin-in = te has puesto insulina rápida en las últimas { $hours } horas
sensor-no-readings-for-min = { $at }  sin lecturas durante { $length }
sensor-no-readings-since = { $at }  sin lecturas desde entonces, durante { $span }
sensor-from-to-within-min = { $at }  de { $from } a { $to } en { $minutes } min
sensor-pressed-for-min = { $at }  presionado durante { $length }

## sentences/table

table-to = { $both }, del { $first } al { $last }.
table-left-out-import-taken-back = No incluye lo que vino solo con archivos retirados: { $entries }.
table-no-time-with-its-offset = no se puede leer una hora con su diferencia respecto a UTC
table-kind-unknown-or-something-kind = el tipo es desconocido, o falta algo de ese tipo
table-would-change-entry-put-right = cambiaría una anotación; corrígela en el registro
table-such-entry-cannot-be = esa anotación no puede ser
table-not-readable-as-text = no se puede leer como texto
table-line-left-out = línea { $number }: { $why }; omitida

## sentences

log-anybody-who-has-file-can = Cualquiera que tenga este archivo puede leerlo. Dáselo solo a quien deba saberlo.

## pages/alerts

page-alerts-your-lines = tus límites
page-alerts-as-tried = como prueba
page-alerts-alerts-replayed = Alertas, simuladas sobre el registro
page-alerts-proposals = Propuestas
page-alerts-cannot-be-replayed = No se puede decir qué alertas habrían dado estas lecturas: { $why }.
page-alerts-below-alert-in-any-case = Por debajo de { $floor } siempre hay una alerta, y se repite. Una hipoglucemia que sigue un cuarto de hora después de tu respuesta se avisa de nuevo. Lo que se hizo y no se anotó no cuenta.

## pages/outcomes

page-outcomes-what-came-prompts-days = Resultados de las indicaciones de { $days } { $days ->
    [one] día
   *[other] días
    }

## pages/learn

page-learn-no-forecast-could-be-compared = No se pudo comparar ninguna previsión con lo que ocurrió: hacen falta unas horas de lecturas sin huecos.
page-learn-readings-stay-as-they-but = Las lecturas se quedan como están, pero no se aprende nada de estos tramos. Si alguno fue una hipoglucemia real, retira su marca en el registro. No volverá a aparecer.
page-learn-learnt = Aprendido el { $when }
page-learn-sensor-probably-pressed-and-log = El sensor estuvo probablemente presionado, y el registro lo dice desde ahora
page-learn-every-prompt-uses-from-now = Cada indicación usa esto desde ahora. Aprende de nuevo cada semana más o menos, y tras un tipo nuevo de sensor. Las protecciones, los límites y los factores nunca se aprenden: son tuyos y de tu equipo sanitario.

## pages/sensor

page-sensor-no-insertion-in-log-yet = Aún no hay ninguna colocación en el registro: anota cuándo te pones un sensor y dónde.
page-sensor-sensors = Sensores
page-sensor-sites-longest-rested-first = Zonas, primero la que más ha descansado
page-sensor-sensor-beside-meter = Sensor junto a medidor
page-sensor-calibration = Calibración
page-sensor-seen-on-newest-sensor = Visto en el sensor más reciente

## pages/supplies

page-supplies-supplies = Suministros
page-supplies-nothing-noted-supplies-yet-count = Aún no hay nada anotado de suministros. Cuenta una vez lo que hay.
page-supplies-prices-you-noted = Precios que anotaste
page-supplies-facts-for-statement-need = Datos para una carta sobre por qué necesitas el sensor
page-supplies-letter-yours-to-write-your = La carta la escribes tú; tu equipo sanitario puede decirte qué pide tu aseguradora.

## pages/report

page-report-glucose-review = Revisión de la glucosa
page-report-in-short = En resumen
page-report-average-day-shared-out = Reparto de un día medio
page-report-hour-by-hour = Hora a hora
page-report-level-spread-and-risk = Nivel, variabilidad y riesgo
page-report-day-by-day = Día a día
page-report-last-days = { $days ->
    [one] El último día con lecturas.
   *[other] Los últimos { $days } días con lecturas.
    }
page-report-dash-where-too-little = Una raya: las lecturas cubren menos del { $share } % del día.
page-report-covered = cubierto
page-report-lows-quarter-hour-and-more = Hipoglucemias de un cuarto de hora o más
page-report-patterns = Patrones
page-report-no-medical-device-and-names = Esto no es un producto sanitario y no indica ninguna dosis. Las cifras vienen de un sensor, que mide el líquido bajo la piel y puede equivocarse. Los objetivos son los del consenso (Battelino et al. 2019); los que tengas con tu equipo sanitario van por delante. Cambia el tratamiento solo con tu equipo sanitario.
page-report-written = Escrito el { $written }.
page-report-none = Ninguna.
page-report-and-earlier-ones = y { $more } { $more ->
    [one] anterior
   *[other] anteriores
    }
page-report-from-left-filled-very-low = Desde la izquierda: relleno, muy baja; trazos densos, baja; tono suave, en rango; trazos anchos, alta; cruzado, muy alta.
page-report-no-hour-has-readings-on = Ninguna hora tiene aún lecturas de cinco días.
page-report-in-by-your-own-clock = En { $unit }, según tu reloj. Cada barra contiene las ocho lecturas centrales de cada diez; su parte gruesa es la mitad central; la muesca, la mediana. Discontinuas: muy baja, y tus límites bajo y alto.
page-report-logged-by-hour = Debajo de las barras: hidratos e insulina rápida según lo anotado por hora, en un día medio del periodo; la cifra junto a cada fila es su barra más alta. Lo que no se anotó no está.
page-report-carbohydrate-a-day = Hidratos, g al día
page-report-rapid-insulin-a-day = Insulina rápida, unidades al día
page-report-grams = g
page-report-units = unidades
page-report-hour = Hora
page-report-days = Días
page-report-no-readings = Sin lecturas.
page-report-each-dates-lows-and-highs = Valores bajos y altos de cada fecha a lo largo del día; las proporciones están en la tabla de abajo
page-report-line-where-there-readings-filled = Una línea donde hay lecturas; bloques rellenos cuelgan de ella mientras estás por debajo de tu límite bajo, trazos se alzan sobre ella mientras estás por encima de tu límite alto; a la derecha, la proporción entre ambos.
page-report-same-in-numbers = Lo mismo en números
page-report-date = Fecha
page-report-between-lines = Entre los límites
page-report-below = Por debajo
page-report-above = Por encima

## pages/review

page-review-review = Revisión
page-review-aims-consensus-battelino-et-al = Los objetivos son los del consenso (Battelino et al. 2019); los que tengas con tu equipo sanitario van por delante, y el tratamiento solo se cambia con él.
page-review-hour-by-hour-in = Hora a hora, en { $unit }
page-review-in-short = En resumen
page-review-time-in-range = Tiempo en rango
page-review-level-spread-and-risk = Nivel, variabilidad y riesgo
page-review-lows-quarter-hour-and-more = Hipoglucemias de un cuarto de hora o más
page-review-patterns = Patrones
page-review-1-in-10-below = 1 de cada 10 por debajo
page-review-1-in-4-below = 1 de cada 4 por debajo
page-review-half-below = la mitad por debajo
page-review-3-in-4-below = 3 de cada 4 por debajo
page-review-9-in-10-below = 9 de cada 10 por debajo

## chart

chart-glucose-by-hour-your-clock = Glucosa por hora de tu reloj, { $hours } de 24 horas conocidas. Su mediana es más baja a las { $low_at } con { $low } y más alta a las { $high_at } con { $high }.
chart-each-post-holds-eight-readings = Cada barra contiene las ocho lecturas centrales de cada diez; su parte gruesa es la mitad central; la muesca, la mediana.

## pages/sheet

page-sheet-not-noted = no anotado
page-sheet-record-one-glucose-sensor = Ficha de un sensor de glucosa
page-sheet-put-in = Puesto
page-sheet-taken-off = Retirado
page-sheet-followed-by-next-sensor = Seguido del sensor siguiente
page-sheet-still-worn = Aún puesto
page-sheet-worn-for = Llevado durante
page-sheet-site = Zona
page-sheet-lot = Lote
page-sheet-rated-for = Duración prevista
page-sheet-readings = Lecturas en el registro
page-sheet-readings-cover = { $readings }, { $share } % del tiempo desde la primera
page-sheet-no-readings = ninguna
page-sheet-days = días
page-sheet-so-many-days = { $days } { $count ->
    [one] día
   *[other] días
    }
page-sheet-what-seen = Lo que se vio
page-sheet-nothing = nada
page-sheet-meter-beside-sensor = Medidor junto a sensor
page-sheet-movement-unknown = tendencia desconocida
page-sheet-meter = medidor
page-sheet-sensor = sensor
page-sheet-earlier-ones = { $count } { $count ->
    [one] anterior
   *[other] anteriores
    }
page-sheet-mean-absolute-relative-difference = Diferencia relativa absoluta media
page-sheet-to = a
page-sheet-times-wearers-own-clock-sensor = Las horas son las del reloj de quien lo lleva. Un sensor mide el líquido bajo la piel, minutos por detrás de la sangre; las diferencias se dan tal como se leyeron.
page-sheet-written = Escrito

## words

words-not-table-ebbstead-wrote = no es una tabla escrita por Ebbstead
refusal-is-a-log = esto es un registro, no un archivo que importar: añádelo con merge, o en la página «{ $page }»
refusal-is-sealed = esto es un registro sellado: ábrelo con unseal y su frase de contraseña, o en la página «{ $page }»

## terminal/commands/add

terminal-add-noted = anotado
terminal-add-corrected = corregido
terminal-add-prompt-is-not-corrected = esto es una indicación que se mostró, y se queda; anota lo que quieras, o retira la indicación con undo y su marca
terminal-add-sleep-has-its-times = el sueño ya tiene sus horas, desde y hasta; omite --at y --ago
terminal-add-ago = --ago debe ser de { $low } a { $high } minutos, no { $given }; para lo que fue antes, --at dice cuándo
terminal-add-and-its-correction = y su corrección
terminal-add-there-nothing-to-undo = no hay nada que deshacer
terminal-add-taken-back = retirado
terminal-add-no-entry-marked-ebbstead-log = ninguna anotación tiene la marca { $wanted }; `ebbstead log` muestra las marcas
terminal-add-entries-marked-give-whole-identity = { $many } anotaciones tienen la marca { $wanted }; da la identidad completa de la que quieres
terminal-add-no-date-write-yyyy-mm = { $text } no es una fecha; escribe AAAA-MM-DD
terminal-add-price-takes-two = --price lleva dos

## terminal/commands/check

terminal-check-shown-not-kept-for-ebbstead = no se guardó para `ebbstead outcomes` que se mostró esto: { $error }
terminal-check-what-learnt-cannot-be-read = no se puede leer lo aprendido, así que se usan los valores habituales: { $error }
terminal-check-and-then = Y después
terminal-check-kept-in-log = guardado en el registro: { $text }
terminal-check-i-checked-with-meter = He medido con el medidor
terminal-check-ebbstead-wake-meter-amount = ebbstead wake --meter VALOR
terminal-check-i-measured-ketones = Me medí las cetonas
terminal-check-ebbstead-add-ketones-amount = ebbstead add ketones VALOR, y después ebbstead wake
terminal-check-i-treated = He tratado una baja
terminal-check-ebbstead-add-carbs-grams-rescue = ebbstead add carbs GRAMOS --rescue
terminal-check-i-rolled-off-sensor = Ya no me apoyo en el sensor
terminal-check-ebbstead-add-sensor-rolled-off = ebbstead add sensor rolled-off, y a los 5 minutos ebbstead wake

## terminal/commands/import

import-table-ebbstead-wrote-could-be = Una tabla escrita por Ebbstead: se podrían tomar { $taken }. No se escribió nada.
import-in-log-already = { $new }; ya en el registro: { $known }.
import-not-one-row-could-be = { $file }: no se pudo tomar ni una fila
import-could-be-taken-to-nothing = Se podrían tomar { $taken }, del { $first } al { $last }. No se escribió nada.
import-to-in-log-already = { $new }, del { $first } al { $last }; ya en el registro: { $known }.
import-nobody-named = nadie con nombre
import-they-came-from-log = Vienen de este registro.
import-they-about-if-not-you-2 = Tratan de: { $about }. Si no eres tú, retíralas con undo.
import-they-about-if-not-you = Tratan de: { $about }. Si no eres tú, no las importes.
import-other-kinds = De otros tipos
import-contradicts = Otro valor para la misma hora que uno del registro: { $readings }. Quedan los dos y cuenta el más bajo.
import-moments-apart = Lecturas que repiten otra del mismo sensor de momentos antes: { $readings }. Las mismas lecturas llegaron dos veces, con horas que difieren en segundos. Todas se quedan en el registro; las cifras cuentan cada una una vez. Si llegaron con este archivo, puedes deshacer la importación con undo.
import-and-more = y { $more } más
import-not-one-entry-could-be = { $file }: no se pudo tomar ni una anotación
import-mostly-every-minutes = , casi siempre cada { $minutes } minutos
import-mostly-every-minute = , casi siempre cada minuto
import-time-from-readings-from-in = Hora de { $time_column }, lecturas de { $glucose_column } en { $unit }{ $spacing }.
import-not-taken-whatever-they-hold = No se toman, contengan lo que contengan: { $unused }.
import-too-low-or-too-high = Demasiado bajas o altas para medirlas, tomadas como tales
import-left-out = Omitidas
import-same-as-earlier-one = Iguales a una anterior
import-without-reading = Sin lectura
terminal-import-and-more-findings-path-writes = { $more }; --findings RUTA las escribe todas en un archivo

## terminal/commands/learn

terminal-learn-nothing-has-been-learnt-from = Aún no se ha aprendido nada de este registro. Para empezar: ebbstead learn
terminal-learn-going-through-last-days-readings = recorriendo los últimos { $days } días de lecturas; tarda unos segundos
terminal-learn-learnt = Aprendido el { $when }
terminal-learn-no-forecast-could-be-compared = No se pudo comparar ninguna previsión con lo que ocurrió: hacen falta unas horas de lecturas sin huecos.
terminal-learn-sensor-probably-pressed-and-log = El sensor estuvo probablemente presionado, y el registro lo dice desde ahora
terminal-learn-readings-stay-as-they-but = Las lecturas se quedan como están, pero no se aprende nada de estos tramos. Si alguno fue una hipoglucemia real, retira la marca con: ebbstead undo { $mark }. No volverá a aparecer.
terminal-learn-ebbstead-check-and-wake-use = ebbstead check y wake usan esto desde ahora. Aprende de nuevo cada semana más o menos, y tras un tipo nuevo de sensor. Las protecciones, los límites y los factores nunca se aprenden: son tuyos y de tu equipo sanitario.

## terminal/commands/list

terminal-list-no-damage-sensor-readings-other = { $display }: sin daños. { $readings } { $readings ->
    [one] lectura
   *[other] lecturas
    } del sensor, { $others } { $others ->
    [one] anotación
   *[other] anotaciones
    } más.
terminal-list-sensor-readings-to = { $amounts } { $amounts ->
    [one] lectura
   *[other] lecturas
    } del sensor, de { $low } a { $high }
terminal-list-corrects = , corrige [{ $tail }]
terminal-list-no-longer-holds = (ya no vale)
terminal-list-nothing-in-log-from-to = No hay nada en el registro del { $from } al { $until }.
terminal-list-nothing-brought-in-from-files = No se ha importado nada de archivos.
terminal-list-taken-back = (retirado)

## terminal/commands/smooth

terminal-smooth-not-before = { $from } no es anterior a { $until }
terminal-smooth-log-has-no-reading-and = El registro no tiene ninguna lectura ni medición con el medidor del { $from } al { $until }.
terminal-smooth-blood-glucose-as-probably-to = Glucosa en sangre, como fue probablemente, del { $from } al { $until }
terminal-smooth-worked-out-from-what-came = Calculada con lo que vino antes y después, mediciones con el medidor incluidas. Solo para mirar atrás: para qué hacer ahora, usa ebbstead check.
terminal-smooth-seen-what-sensor-read-or = Visto: lo que marcó el sensor, o M y lo que mostró el medidor, en { $unit }. Sangre: lo más probable, y dónde estuvo nueve de cada diez veces.
terminal-smooth-drawn-blood-nine-in-ten = Dibujo: { $blood } sangre, { $band } nueve de cada diez, { $reading } sensor, { $meter } medidor.
terminal-smooth-readings-in-brackets-left-out = Las lecturas entre paréntesis se omitieron: el sensor estaba presionado.
terminal-smooth-time = hora
terminal-smooth-seen = visto
terminal-smooth-blood-probably = sangre, probable

## terminal/commands/recover

terminal-recover-damaged-log-only-read-and = El registro solo se leyó y se conserva: { $old }. Mira el nuevo con --log { $new }. Para seguir con él, mueve a otro sitio el archivo antiguo y los que están a su lado y empiezan por su nombre; después pon el nuevo en su lugar. Revisa los ajustes y todo lo demás antes de fiarte de él.

## terminal/commands/merge

terminal-merge-against = En contra
terminal-merge-nothing-taken-in-if-you = no se incorporó nada; si sabes por qué y lo quieres de todos modos, añade --force
terminal-merge-nothing-written-add-apply = No se escribió nada. Para incorporarlo, añade --apply{ $force }.

## terminal/commands/reliability

terminal-reliability-chances-falling-below-within-30 = Probabilidades de bajar de { $line } en 30 minutos
terminal-reliability-each-chance-stated-before-its = Cada probabilidad se dijo antes de conocer el resultado, mientras bajaban lecturas por encima del límite, hasta el { $until }. Con cinco minutos entre ellas ven casi la misma media hora, así que seis cuentan como una. Puede que actuaras por lo que viste: una hipoglucemia que evitaste cuenta como una que no llegó.
terminal-reliability-what-said-what-came-where = { $said } lo dicho, { $came } lo ocurrido, { $between } dónde quedaría nueve de cada diez veces. Un guion: muy pocas para decirlo.
terminal-reliability-said = dicho
terminal-reliability-times = veces
terminal-reliability-came = ocurrido

## terminal/commands/replay

terminal-replay-rows-run-backwards = Las filas van hacia atrás en el tiempo, la más nueva primero: lo que se muestra de ellas no significa nada. Invierte el archivo, la fila más antigua primero.
terminal-replay-line-column-cannot-be-used = línea { $line }, columna { $column } ({ $name }): { $given } no se puede usar; el resto de la fila cuenta
terminal-replay-time = hora
terminal-replay-reading-movement = lectura, tendencia
terminal-replay-low-in-30-min = baja en 30 min
terminal-replay-prompt-without-meter = indicación (sin medidor)

## terminal/commands/review

terminal-review-there-another-file-name-left = { $path }: hay otro archivo con ese nombre; se dejó como está. Da otro nombre
terminal-review-written-to = escrito en { $path }

## terminal/commands/seal

terminal-seal-there-no-terminal-to-ask = no hay un terminal donde pedir la frase de contraseña; da --passphrase-from RUTA
terminal-seal-passphrase-nothing-shown = Frase de contraseña (no se muestra nada):
terminal-seal-once-more = Otra vez:
terminal-seal-two-not-same-nothing-sealed = las dos no son iguales; no se selló nada
terminal-seal-passphrase-no-text = la frase de contraseña no es texto
terminal-seal-is-the-passphrase-file = { $path } contiene la frase de contraseña y quedaría reemplazado al sellar; no se selló nada. Indica otro archivo

## terminal/commands/sensor

terminal-sensor-no-such-sensor-in-log = ese sensor no está en el registro; anota uno con: ebbstead add sensor inserted --site ZONA
terminal-sensor-to-note-one-ebbstead-add = Para anotar uno: ebbstead add sensor inserted --site "brazo izquierdo"
terminal-sensor-to-be-reminded-when-sensor = Para que se te recuerde cuándo un sensor se pasa de tiempo, di cuánto duran los tuyos: ebbstead settings sensor-days 10

## terminal/commands/settings

terminal-settings-none = ninguno
terminal-alerts-never = nunca
terminal-settings-log-has-no-readings-sensor = el registro no tiene lecturas de un sensor llamado { $name } (los que tiene: { $known })
terminal-settings-not-set = sin fijar
terminal-settings-sparing-fewer-later-prompts-to = sparing: menos indicaciones de tratar, y más tarde
terminal-settings-balanced = balanced: lo habitual
terminal-settings-early-earlier-more-needless-prompts = early: indicaciones de tratar más pronto, y más de ellas innecesarias
terminal-settings-unit = por unidad
terminal-settings-gram = por gramo
terminal-settings-one-read-first = el que se leyó primero
terminal-settings-change-one-with-ebbstead-settings = Cambia uno con: ebbstead settings NOMBRE VALOR. Los límites y los factores los fijáis tú y tu equipo sanitario.

## terminal/commands/supplies

terminal-supplies-nothing-noted-supplies-count-once = No hay nada anotado de suministros. Cuenta una vez lo que hay: ebbstead add supply counted sensors 3
terminal-supplies-to-be-reminded-when-to = Para que se te recuerde cuándo pedir, di cuánto tarda la entrega: ebbstead settings lead-days 7

## terminal/demo

demo-demo-with-everything-in-invented = Una demostración, con todo inventado
demo-nobody-lived-evening-and-night = Nadie vivió esta tarde y esta noche: una pequeña simulación de un cuerpo y un sensor hizo las lecturas. Lo que aquí se dice es lo que Ebbstead diría de las tuyas. No es un producto sanitario y no indica ninguna dosis; el plan de tu equipo sanitario va por delante.
demo-demos-log-look-around-in = El registro de la demostración es { $display }: míralo con --log. El tuyo empieza con
demo-data-folder-cannot-be-written = no se puede escribir en la carpeta de datos; la demostración se guarda solo en memoria
demo-log-holds-something-else = { $display } contiene un registro propio, y las lecturas inventadas de la demostración no tienen sitio en él. Omite --log para ver la demostración, indica un archivo que aún no exista o un comando para este registro, como check
demo-scene-saturday-evening-two = Sábado por la noche, dos horas después de la cena y su insulina. Las lecturas bajan.
demo-scene-later-after-walk = Más tarde, después de un paseo.
demo-scene-quarter-hour-after = Un cuarto de hora después, con hidratos de rescate tomados.
demo-scene-night-alert-has = Noche. Una alerta ha despertado a la persona, que está tumbada sobre el brazo del sensor.
demo-scene-five-minutes-later = Cinco minutos después, con una medición del medidor.
demo-scene-sunday-morning-three = Domingo por la mañana, tres cuartos de hora después del desayuno y su insulina. Las lecturas suben.

## terminal/context

terminal-careful-devices-clock-behind-log = cuidado: el reloj de este dispositivo ({ $now }) va por detrás del registro, escrito por última vez el { $last }
terminal-no-number = { $text } no es un número
terminal-cannot-be-if-add = { $text } { $unit } no puede ser; si es { $other }, añade { $option }
terminal-clocks-showed-twice = Los relojes marcaron { $text } dos veces; se toma { $time }. Para la otra, escribe la hora con su diferencia con UTC.
terminal-clocks-went-over = Los relojes se adelantaron sobre { $text }; se toma { $time }. Si no es así, escribe la hora con su diferencia con UTC.

## terminal/failure

terminal-failure-cannot-write-result = no se puede escribir el resultado: { $error }
terminal-failure-kept-result-not-written = el registro lo ha tomado, así que no lo vuelvas a anotar; pero no se puede escribir el resultado: { $error }
terminal-failure-or-replace = { $error }, o, donde la orden lo tenga, --replace
terminal-failure-what-above-made-what-sound = { $error }. Lo de arriba está hecho con lo que no está dañado; pueden faltar anotaciones. ebbstead recover salva en un registro nuevo lo que se puede leer

## words/prompts

label-why = Por qué
label-careful = Cuidado
label-would-change = Qué cambiaría esto
label-logged = Anotado
label-now = ahora
label-reading = lectura
label-meter-check = medición con el medidor
label-expected = previsto
label-if-waiting = si esperas
label-if-treating = si tratas ahora
label-nine-in-ten = nueve de cada diez veces
label-low-line = límite bajo
label-floor-line = muy baja
label-high-line = límite alto
verdict-treat = Trata ahora
verdict-check = Mide antes
verdict-hold = Espera
verdict-clear = Nada que decidir
verdict-help = Pide ayuda
heading-own-plan = Tu propio plan
heading-sick-day-plan = Tu plan para días de enfermedad
matter-falling = Bajando o baja
matter-rising = Alta o subiendo
matter-night-wake = Despertar nocturno
matter-steady = Estable
matter-too-little = Muy pocos datos
sentence-call-for-help = Pide ayuda ahora: llama al número de emergencias, o haz que alguien llame. Esto supera lo que puede hacer una aplicación.
sentence-treat-confirmed-low = Toma ahora hidratos de acción rápida, el primer paso que te indicó tu equipo sanitario (lo habitual: de 15 a 20 g): el medidor muestra una glucosa baja.
sentence-treat-below-floor = Toma ahora hidratos de acción rápida, el primer paso que te indicó tu equipo sanitario (lo habitual: de 15 a 20 g): tu glucosa está muy baja.
sentence-treat-low = Toma ahora hidratos de acción rápida, el primer paso que te indicó tu equipo sanitario (lo habitual: de 15 a 20 g): tu glucosa está baja.
sentence-treat-before-low = Toma ahora hidratos de acción rápida, el primer paso que te indicó tu equipo sanitario (lo habitual: de 15 a 20 g): estás a punto de tener la glucosa baja, y esperar a la próxima vez sería tarde.
sentence-treat-felt-low = Toma ahora hidratos de acción rápida, el primer paso que te indicó tu equipo sanitario (lo habitual: de 15 a 20 g): notas la glucosa baja, y eso cuenta.
sentence-treat-again-and-call = Llama a alguien ahora, y vuelve a tomar lo mismo de rescate: lo has tomado varias veces y tu glucosa sigue baja.
sentence-check-felt-meter-disagrees = Vuelve a medir ahora con el medidor: notas la glucosa baja, y el medidor dice otra cosa. Lo que notas cuenta.
sentence-check-meter-was-low = Mide ahora con el medidor: la última medición fue baja, y desde entonces no se ha anotado que comieras nada.
sentence-check-unseen-low = Mide ahora con el medidor: la última medición fue baja y el sensor no lo mostró, así que no puede mostrar si lo que comiste fue suficiente.
sentence-check-other-sensor = Mide ahora con el medidor: otro sensor que llevas marca bajo, y este no.
sentence-check-after-severe = Mide con el medidor y no te quedes a solas: anotaste signos de una hipoglucemia grave, y nada muestra aún que haya pasado.
sentence-check-meter-twice = Lávate las manos y mide por tercera vez: una medición fue baja y la siguiente, minutos después, no. Hasta entonces, vale la baja.
sentence-check-meter-high = Lávate las manos y vuelve a medir: el medidor marca mucho más que el sensor, y eso pasa con azúcar en el dedo.
sentence-check-apart = Mide ahora con el medidor: el sensor y el medidor están muy lejos uno del otro, y uno de los dos puede ocultar una glucosa baja.
sentence-check-insulin = Mide con el medidor y revisa la anotación: se anotó mucha más insulina de lo habitual.
sentence-check-more-to-come = Mide con el medidor: tu glucosa baja, y la insulina, la actividad o el alcohol pueden bajarla más.
sentence-check-stuck = Mide con el medidor: el sensor muestra exactamente el mismo número desde hace demasiado tiempo.
sentence-check-ended = Mide con el medidor: este sensor se anotó como terminado.
sentence-hold-meter-near = No trates todavía: el medidor te sitúa justo por encima de tu límite bajo. Vuelve a mirar pronto.
sentence-hold-after-jump = Espera: una lectura dio un salto y volvió. Las próximas lecturas mostrarán cuál es correcta.
sentence-hold-insulin-to-come = Espera y mira de nuevo pronto: hay más insulina anotada que comida, y puede bajarte la glucosa demasiado. Si era para una comida, come lo previsto, o anótalo si ya comiste.
sentence-check-felt-disagrees = Mide ahora con el medidor: lo que notas y lo que marca el sensor no concuerdan.
sentence-check-compression = Deja de apoyarte en el sensor y mide con el medidor: parece presionado, y un sensor presionado marca de menos.
sentence-check-rolled-off = Sigue sin apoyarte en el sensor y mide con el medidor: las lecturas de un sensor presionado se recuperan en minutos.
sentence-check-still-low = Mide ahora con el medidor: ya no te apoyas en el sensor, y las lecturas no se han recuperado.
sentence-check-unsettled = Mide con el medidor antes de actuar: el sensor es nuevo o inestable.
sentence-check-stale = Mide con el medidor: la lectura más reciente es demasiado antigua para actuar según ella.
sentence-check-falling-fast = Mide ahora con el medidor: tu glucosa baja rápido, y el sensor va por detrás de la sangre.
sentence-check-near-low = Mide con el medidor: estás cerca de tu límite bajo, y un medidor lo aclararía.
sentence-check-just-low = Mide con el medidor: hace un momento tenías la glucosa baja, y puede volver a estarlo.
sentence-check-low-rising = Mide con el medidor: el sensor aún marca baja, pero tu glucosa probablemente ya está subiendo.
sentence-hold-compression = Deja de apoyarte en el sensor y vuelve a mirar: parece presionado, y un sensor presionado marca de menos.
sentence-hold-near-low = No trates todavía: estás cerca de tu límite bajo, pero ahora la glucosa no baja.
sentence-hold-falling = No trates todavía: tu glucosa baja, pero no se espera que esté baja antes de la próxima vez que mires.
sentence-hold-rescue-working = No tomes más todavía: los hidratos de rescate que tomaste necesitan tiempo para actuar.
sentence-hold-meter-above = No trates todavía: tu medición con el medidor es reciente y está por encima de tu límite bajo.
sentence-hold-insulin-working = No corrijas todavía: tienes la glucosa alta, y la insulina que te pusiste aún está actuando.
sentence-hold-meal-arriving = No corrijas todavía: tu glucosa sube mientras aún se absorbe una comida.
sentence-hold-rising = Espera por ahora: tienes la glucosa alta o subiendo, y la próxima vez que mires se verá más.
sentence-hold-own-plan = Tienes la glucosa alta: para esto está tu propio plan de corrección, si tu equipo sanitario te dio uno.
sentence-check-high = Mide con el medidor antes de corregir: el sensor marca muy alta.
sentence-call-for-ketones = Pide ayuda ahora: unas cetonas tan altas pueden ser cetoacidosis. Llama al número de urgencias de tu equipo sanitario o al de emergencias.
sentence-check-ketones = Mide las cetonas ahora: una enfermedad, o una glucosa alta que dura, puede hacerlas subir.
sentence-check-vomiting = Mide con el medidor: estás vomitando mientras actúa la insulina, y puede que no retengas lo que comiste.
sentence-sick-day-plan-now = Sigue ahora tu plan para días de enfermedad y llama a tu equipo sanitario: tus cetonas están altas.
sentence-sick-day-plan-vomiting = Sigue tu plan para días de enfermedad y llama a tu equipo sanitario: estás vomitando y llevas mucho tiempo alto.
sentence-sick-day-plan = Sigue tu plan para días de enfermedad: tus cetonas están elevadas. Bebe, y vuelve a medirlas antes de dos horas.
sentence-nothing-to-decide = No hay que hacer nada. Vuelve a mirar cuando algo cambie.
sentence-no-readings = No hay lecturas por las que guiarse. Si notas la glucosa baja o tienes dudas, mide con el medidor; si no tienes medidor a mano, trata como si fuera una hipoglucemia.
without-meter-treat = Sin medidor a mano: trata.
without-meter-check = Sin medidor a mano: vuelve a mirar pronto, y trata si notas la glucosa baja.
without-meter-hold = Sin medidor a mano: espera, vuelve a mirar pronto, y trata si notas la glucosa baja.
without-meter-clear = Sin medidor a mano: ahora no hay nada que decidir.
without-meter-help = Con medidor o sin él: pide ayuda.
without-ketone-meter = Sin medidor de cetonas a mano: sigue tu plan para días de enfermedad, y llama a tu equipo sanitario si te encuentras mal.
without-meter-high = Sin medidor a mano: no corrijas solo por esta lectura, y vuelve a mirar pronto. Si sigue alta o te encuentras mal, llama a tu equipo sanitario.
look-again-at-once = Vuelve a mirar enseguida.
look-again-1 = Vuelve a mirar en 1 minuto.
look-again = Vuelve a mirar en { $minutes } minutos.
reason-reading = El sensor marcó { $amount }, { $ago }.
reason-reading-beyond-below = El sensor marcó BAJO: menos de { $amount }, { $ago }.
reason-reading-beyond-above = El sensor marcó ALTO: más de { $amount }, { $ago }.
reason-blood = Tu glucosa en sangre, que el sensor sigue con retraso, es de { $expected }.
reason-rate-level = La glucosa { $movement }.
reason-rate-falling = La glucosa { $movement }; a este ritmo, en media hora sería { $amount } más baja.
reason-rate-rising = La glucosa { $movement }; a este ritmo, en media hora sería { $amount } más alta.
reason-easing-fall = La bajada se frena: hace media hora { $before }, ahora { $now }.
reason-easing-rise = La subida se frena: hace media hora { $before }, ahora { $now }.
reason-if-so = , y si ocurre, en aproximadamente { $span }
reason-chance-low = Probabilidad de una lectura por debajo de tu límite bajo ({ $line }) en { $within_minutes } minutos: { $chance }{ $when }.
reason-if-waiting = Si esperas: probabilidad del { $chance } de una glucosa en sangre por debajo de { $line } en { $within_minutes } minutos{ $when }.
reason-if-treating = Si tratas ahora: probabilidad del { $chance } de una glucosa en sangre por debajo de { $line } en { $within_minutes } minutos, y del { $high_chance } de pasar de tu límite alto en una hora.
reason-chance-floor = Probabilidad de una lectura muy baja (por debajo de { $line }) en { $within_minutes } minutos: { $chance }.
reason-chance-high = Probabilidad de una lectura por encima de tu límite alto ({ $line }) en { $within_minutes } minutos: { $chance }.
reason-meter = El medidor mostró { $amount }, { $ago }.
reason-meter-beyond-below = El medidor mostró BAJO: menos de { $amount }, { $ago }.
reason-meter-beyond-above = El medidor mostró ALTO: más de { $amount }, { $ago }.
reason-feels-low = Notas la glucosa baja.
reason-feels-high = Notas la glucosa alta.
reason-severe-signs = Signos de una hipoglucemia grave: confusión, no poder tragar o no responder.
reason-compression = Probabilidad de que el sensor esté presionado: { $chance }; sin eso, estarías cerca de { $without }.
reason-meter-apart-high = Según tus mediciones con el medidor, el sensor marca unos { $amount } de más.
reason-meter-apart-low = Según tus mediciones con el medidor, el sensor marca unos { $amount } de menos.
reason-other-sensor = Otro sensor que llevas marcó { $amount }, { $ago }.
reason-doubtful-dose = Se anotaron { $dose } de insulina { $ago }; es mucho más de lo habitual.
reason-long-acting-twice = La insulina lenta está anotada más de una vez, { $dose } en total, la última { $ago }: comprueba si se anotó dos veces o se puso dos veces.
reason-rescues = Has tomado hidratos de rescate { $times } veces en la última hora, más o menos.
reason-stuck = La lectura no ha cambiado nada en { $span }.
reason-ended = El sensor se anotó como terminado { $ago }.
reason-rolled-off = Dejaste de apoyarte en el sensor { $ago }.
reason-unsettled = Probabilidad de que el sensor esté inestable (saltos, pérdidas de señal): { $chance }.
reason-first-day = El sensor se puso { $ago }; su primer día es poco fiable.
reason-stale = La lectura más reciente es de hace { $span }.
reason-sudden-drop = Tras un tramo estable, las lecturas pasaron de { $from } a { $to } en { $span }; cuesta creerlo sin comprobarlo.
reason-rescue = Tomaste { $grams } g de hidratos de rescate { $ago }.
reason-insulin-on-board = Insulina activa: quedan por actuar unas { $dose } de insulina rápida, la última puesta { $ago }.
reason-carbohydrate-arriving = Aún se están absorbiendo unos { $grams } g de hidratos.
reason-alcohol = Anotaste { $dose } con alcohol, lo último { $ago }; el alcohol puede bajar la glucosa hasta el mediodía siguiente.
reason-ketones = Cetonas: { $amount } mmol/L, { $ago }.
reason-ill = Tienes una enfermedad, según anotaste { $ago }.
reason-vomiting = Estás vomitando, según anotaste { $ago }.
reason-high-for = Llevas { $span } por encima de tu límite alto.
reason-no-insulin-noted = Llevas { $span } sin insulina rápida anotada.
reason-insulin-not-lowering = Te pusiste insulina rápida { $ago }, y aún no ha bajado tu glucosa.
reason-moving = Te estás moviendo, y eso baja la glucosa.
reason-moved = Dejaste de moverte { $ago }; la glucosa puede seguir bajando después de la actividad.
caution-sensor-lags = El sensor va minutos por detrás de la sangre; en una bajada, la sangre ya está más baja.
caution-sensor-lags-rising = El sensor va unos minutos por detrás de la sangre; al subir, la sangre ya está más alta.
caution-meter-decides = Si el sensor y el medidor difieren, decide el medidor.
caution-in-doubt-treat = Si dudas y no tienes medidor a mano, trata como si fuera una hipoglucemia.
caution-recheck-in15 = Si tu glucosa sigue baja después de 15 minutos, vuelve a tomar lo mismo.
caution-rise-takes-time = Puede que el sensor aún no muestre una subida a los 15 minutos; un medidor la muestra antes.
caution-do-not-stack = Insulina sobre insulina que aún actúa puede causar una hipoglucemia más tarde.
caution-no-dose = Aquí no se indica ninguna dosis: eso es cosa de tu propio plan y de tu equipo sanitario.
caution-ketones-when-high = Glucosa alta durante horas, o te encuentras mal: mide las cetonas y sigue las reglas de tu equipo sanitario para días de enfermedad.
caution-ketones-again = Cetonas elevadas: vuelve a medirlas antes de dos horas y no hagas ejercicio. Si vomitas, no puedes beber, respiras rápido o empeoras, pide ayuda.
caution-ketones-emergency = Tus cetonas también exigen ayuda: una vez tratada la hipoglucemia, llama al número de emergencias.
caution-ketones-after-low = También tienes las cetonas elevadas, y necesitan hidratos. Una vez tratada la glucosa baja, sigue tu plan para días de enfermedad, llama a tu equipo sanitario y mide las cetonas otra vez antes de dos horas.
caution-ketones-high = Cetonas altas: sigue tu plan para días de enfermedad y llama ahora a tu equipo sanitario, aunque la glucosa no esté alta. Mídelas otra vez antes de dos horas.
caution-insulin-may-not-get-in = Puede que la insulina no esté entrando: el catéter o el tubo de una bomba puede fallar, la insulina puede estropearse. Tu plan dice qué hacer entonces.
caution-may-not-stay-down = Si no puedes retener el azúcar, pide ayuda: puede hacer falta glucagón de rescate.
caution-first-day-unreliable = En el primer día de un sensor, cree al medidor antes que al sensor.
caution-nothing-by-mouth = No des nada por la boca a quien no puede tragar o no responde. Usa glucagón de rescate si lo hay y te enseñaron cómo.
caution-call-somebody = Avisa a alguien y quédate con gente. Si empeora, llama al número de emergencias.
caution-alcohol-lowers-later = Después del alcohol, las hipoglucemias llegan tarde y se parecen a una borrachera: come antes de dormir y avisa a alguien.
caution-insulin-right-or-wrong = Si la anotación está mal, corrígela o retírala. Si está bien, llama ahora a tu equipo sanitario o al número de emergencias, y sigue midiendo con el medidor.
caution-feelings-count = Si notas la glucosa baja, eso cuenta más que el número.
change-reading-below = una lectura por debajo de { $amount }
change-reading-above = una lectura por encima de { $amount }
change-falling-faster-than = una bajada más rápida que { $rate }
change-meter-below = una medición con el medidor por debajo de { $amount }
change-meter-above = una medición con el medidor de { $amount } o más
change-ketones-above = cetonas de { $amount } mmol/L o más
change-feeling-low = notar la glucosa baja
change-readings-come-back = lecturas que se recuperan a los pocos minutos de dejar de apoyarte en el sensor
change-new-readings = lecturas nuevas

## words/quantities

pace-level = estable
pace-slow = despacio
pace-fast = rápido
pace-very-fast = muy rápido
movement-level = se mantiene estable
movement-falling = baja
movement-rising = sube
chance-under-1 = menos del 1 %
chance-over-99 = más del 99 %
expected = unos { $amount } ({ $low } a { $high })
ago-just-now = ahora mismo
ago = hace { $span }
beyond-below = demasiado baja para medirla (menos de { $amount })
beyond-above = demasiado alta para medirla (más de { $amount })
insulin-units = { $units } { $count ->
    [one] unidad
   *[other] unidades
    }
alcohol-drinks = { $drinks } { $count ->
    [one] bebida
   *[other] bebidas
    }
meter-checks = { $count } { $count ->
    [one] medición con el medidor
   *[other] mediciones con el medidor
    }
span-moment = menos de un minuto
span-minutes = { $count } { $count ->
    [one] minuto
   *[other] minutos
    }
span-hours = { $count } { $count ->
    [one] hora
   *[other] horas
    }
span-hours-minutes = { $hours } h { $minutes } min
span-days = { $count } { $count ->
    [one] día
   *[other] días
    }
span-after-days = { $count } { $count ->
    [one] día
   *[other] días
    }

## words/entries

entry-sensor-reading = lectura del sensor { $amount }
entry-sensor-beyond = lectura del sensor { $beyond }
entry-meter-check = medición con el medidor { $amount }
entry-meter-beyond = medición con el medidor { $beyond }
entry-carbohydrate = hidratos { $grams } g, { $purpose }
entry-alcohol = alcohol: { $dose }
entry-ketones = cetonas { $amount } mmol/L
entry-ill = enfermedad
entry-vomiting = enfermedad con vómitos
entry-well-again = bien de nuevo
entry-activity = actividad: { $activity }, { $minutes } minutos, { $effort }
entry-activity-1 = actividad: { $activity }, 1 minuto, { $effort }
entry-sleep = sueño hasta las { $until }
entry-sensor-inserted = sensor puesto
entry-lot = , lote { $lot }
entry-sensor-warm-up-over = calentamiento del sensor terminado
entry-sensor-rolled-off = dejó de apoyarse en el sensor
entry-sensor-ended = sensor terminado
entry-sensor-fault = fallo del sensor: { $seen }
entry-sensor-device-fault = fallo del sensor: { $code }
entry-note = nota: { $text }
entry-compression-low = sensor presionado hasta las { $until }
entry-supply-good-until = , caduca el { $day }
entry-supply-from = , de { $from }
entry-prompted-chance = , probabilidad de glucosa baja en 30 minutos { $chance }
entry-import = importado: { $name }
entry-retraction = una anotación retirada
item-sensor = sensores
item-transmitter = transmisores
item-battery = pilas
item-test-strip = tiras reactivas
item-rapid-insulin = insulina rápida
item-long-acting-insulin = insulina lenta
item-rescue-carbohydrate = hidratos de rescate
stocked-counted = contado
stocked-received = recibido
stocked-used = gastado
stocked-thrown-away = desechado
stocked-quoted = ofrecido
insulin-rapid = insulina rápida
insulin-long-acting = insulina lenta
purpose-meal = comida
purpose-rescue = rescate
effort-light = suave
effort-moderate = moderada
effort-hard = intensa
symptom-feels-low = nota la glucosa baja
symptom-feels-high = nota la glucosa alta
symptom-none = no la nota ni baja ni alta
symptom-severe = signos graves
device-fault-sensor-type = el dispositivo no admite este sensor
device-fault-sensor-malfunction = el sensor avisa de un mal funcionamiento
device-fault-general = el sensor avisa de un fallo general
spell = { $date }, de { $from } a { $until }
entry-sensor-rated = , duración prevista de { $days } { $days ->
    [one] día
   *[other] días
    }
entry-prompted-treat = mostrado: tratar
entry-prompted-check = mostrado: medir antes
entry-prompted-hold = mostrado: esperar
entry-prompted-clear = mostrado: nada que decidir
entry-prompted-help = mostrado: pedir ayuda

## words/chart

chart-nothing = No hay lecturas que mostrar.
chart-past = Durante { $span }: de { $first } a { $last }, la más reciente a las { $last_at }; la más baja { $lowest } a las { $lowest_at }, la más alta { $highest } a las { $highest_at }.
chart-ahead = en { $minutes } minutos { $expected }
chart-expected = Glucosa prevista: { $each } (entre paréntesis: donde está nueve de cada diez veces).
chart-if-treated = Si tratas ahora: unos { $amount } en una hora.

## words/lessons

lesson-too-little = Muy poco para aprender tus propios valores: hay { $have_days } { $count ->
    [one] día
   *[other] días
    } de lecturas, hacen falta { $need_days }. Hasta entonces valen los que sirven a la mayoría.
lesson-rests-on = Esto se apoya en { $days } días con { $readings } lecturas y { $checks }.
lesson-own-used = Tus propios valores se usan desde ahora: con ellos, las previsiones de media hora se ajustaron un { $percent } % mejor a lo que luego ocurrió que con los valores habituales (puntuación { $score_own }, antes { $score_population }).
lesson-own-not-used = Se probaron tus propios valores y no previeron mejor, así que siguen los habituales (puntuación { $score_own }, con los habituales { $score_population }).
lesson-moves = Tu glucosa se mueve { $times } veces lo que la de la mayoría.
lesson-moves-at-night = En tu noche se mueve { $times } veces lo que en tu día.
lesson-moves-when-high = Cerca de { $high } se mueve { $times } veces lo que cerca de { $low }.
lesson-scatter = Las lecturas sueltas se dispersan unos { $amount } alrededor de su curso.
lesson-lag = Tu sensor va unos { $minutes } minutos por detrás de la sangre.
lesson-lag-needs-checks = Aún no se sabe cuánto va tu sensor por detrás de la sangre: hay { $checks } en estos días, hacen falta { $need }.
lesson-forecasts = Las previsiones se ajustaron según cómo acabaron { $count } de ellas.
calibration-figures = { $shown } probabilidades, calculadas con lo que se sabía en cada momento: el { $mean_chance } % de media, y ocurrió el { $came } %. Se desviaron { $off } puntos de media.
calibration-too-few = Aún no basta para decirlo: se han seguido bajadas durante { $have } { $count ->
    [one] media hora
   *[other] medias horas
    }, hacen falta { $need }.
calibration-calibrated = Las probabilidades estaban bien calibradas, por lo que se puede ver. { $figures }
calibration-over-forecasts = Las hipoglucemias llegan menos a menudo de lo que dicen las probabilidades. { $figures }
calibration-under-forecasts = Las hipoglucemias llegan más a menudo de lo que dicen las probabilidades. { $figures }

## words/files

finding-column = , columna { $column }
finding-no-time = no hay hora; omitida
finding-time-unreadable = la hora no está escrita como las demás; omitida
finding-offset-contradicts = esto contradice la hora de al lado: otra diferencia respecto a UTC; omitida
finding-time-outside-years = el año está fuera de 2000 a 2199; omitida
finding-in-future = la hora va por delante del reloj de este dispositivo; omitida. Comprueba ambos relojes
finding-not-a-number = esto no es un número; omitida
finding-says-low = demasiado baja para que el sensor la mida; tomada como tal lectura
finding-says-high = demasiado alta para que el sensor la mida; tomada como tal lectura
finding-other-unit = fuera de lo que marca un sensor en la unidad de este archivo, pero posible en la otra; omitida
finding-names-other-unit = esta fila indica otra unidad que el archivo; omitida
finding-too-few-cells = la fila termina antes de la lectura; omitida
finding-too-many-cells = más celdas que nombres de columna; omitida. Una coma decimal necesita comillas u otro separador
finding-contradicts = otro valor para la misma hora; se toman ambos, se usa el más bajo
finding-clock-went-back = aquí las horas retroceden: se toma como la noche en que se atrasaron los relojes
finding-hour-that-never-was = los relojes se adelantaron sobre esta hora; se toma como si no
finding-open-quote = estas comillas no se cierran en su línea; se cierran ahí, y las líneas siguientes se leen como filas
finding-line = línea { $line }{ $column }{ $given }: { $reason }
fault-nothing = nada
fault-empty = el archivo está vacío; no se tomó nada
fault-no-rows = hay nombres de columnas y ninguna lectura debajo; no se tomó nada
fault-not-text = esto no es una tabla de texto, o está en UTF-16; guárdala como CSV en UTF-8
fault-no-time-column = ninguna columna se llama como una hora (hay: { $seen }); di cuál la contiene
fault-no-glucose-column = ninguna columna se llama como lecturas de glucosa (hay: { $seen }); di cuál las contiene
fault-several-glucose-columns = más de una columna podría contener las lecturas del sensor ({ $seen }); di cuál
fault-no-such-column = no hay una columna { $asked } (hay: { $seen })
fault-times-unknown = la hora { $given } está escrita de una forma que aquí no se conoce; di cómo, por ejemplo { $like }
fault-day-or-month = en { $given } cualquiera de los dos números podría ser el día; di cuál: { $day_first } o { $month_first }
fault-bad-time-format = { $given } no es una forma de escribir horas; usa signos como %Y-%m-%d %H:%M:%S
fault-unit-unknown = valores como { $given } encajan tanto en mg/dL como en mmol/L; di en qué unidad está el archivo
fault-other-unit = se dijo que el archivo está en { $said }, pero valores como { $given } parecen { $fits }; di que el archivo está en { $fits }. No se tomó nada
fault-several-kinds = sus filas son de varios tipos ({ $column } dice: { $seen }), y no se sabe cuáles dan la glucosa; deja solo las filas con glucosa
fault-another-unit = la columna { $column } dice que las lecturas están en { $given }, que aquí no se lee; conviértelas e indica la unidad. No se tomó nada
fault-unit-not-named = no se indica la unidad, y valores como { $given } serían todos bajos en mmol/L: pueden ser g/L. Di cuál es, o convierte antes los g/L. No se tomó nada
fault-several-units = la columna { $column } indica otra unidad que otras filas o que el nombre de las lecturas; conserva las filas de una unidad. No se tomó nada
fault-offset-unknown = en la columna { $column }, de diferencias con UTC, no se puede leer { $given }; escribe +01:00, o quítala si las horas son locales. No se tomó nada
fault-several-sensors = la columna { $column } nombra sensores que miden a la vez ({ $seen }); conserva las filas de uno, o quita la columna si son uno solo. No se tomó nada
fault-only-meter = la única glucosa se llama como la de un medidor (encontrado: { $seen }); añade los controles uno a uno, o di qué columna es la del sensor. No se tomó nada
fault-row-too-long = esta fila ocupa más de 1 MB, el límite para una; busca unas comillas que no se cierran
refused-column = :{ $column }
refused = { $file }:{ $line }{ $column }: { $why }
finding-out-of-range = fuera de { $least } a { $most }; omitida

## words/counted

counted-readings = { $count } { $count ->
    [one] lectura
   *[other] lecturas
    }
counted-sensor-readings = { $count } { $count ->
    [one] lectura del sensor
   *[other] lecturas del sensor
    }
counted-new-readings = { $count } { $count ->
    [one] lectura nueva
   *[other] lecturas nuevas
    }
counted-entries = { $count } { $count ->
    [one] anotación
   *[other] anotaciones
    }
counted-other-entries = { $count } { $count ->
    [one] anotación más
   *[other] anotaciones más
    }
counted-new-entries = { $count } { $count ->
    [one] anotación nueva
   *[other] anotaciones nuevas
    }
counted-imports = { $count } { $count ->
    [one] importación
   *[other] importaciones
    }
counted-figures = { $count } { $count ->
    [one] cifra de la revisión
   *[other] cifras de la revisión
    }
counted-rows = { $count } { $count ->
    [one] fila
   *[other] filas
    }
counted-resources = { $count } { $count ->
    [one] recurso
   *[other] recursos
    }
counted-sources = { $count } { $count ->
    [one] origen
   *[other] orígenes
    }
counted-more = { $count } más

## words/errors

error-out-of-range = { $what }: debe estar entre { $low } y { $high } { $unit }, no { $given }
error-over-nothing = { $what } debe ser más de 0 y como mucho { $high } { $unit }
error-invalid = { $what }: { $why }
error-no-such-entry = no hay ninguna anotación { $id } en este registro
error-not-a-log = { $path }: no es un registro de Ebbstead; el archivo se dejó como está. Da otra ruta
error-newer-log = { $path }: escrito por un Ebbstead más nuevo (formato { $found }, este lee hasta { $known }); el archivo se dejó como está. Actualiza Ebbstead
error-damaged-log = { $path }: el registro está dañado ({ $what }); el archivo se conservó como está. Cópialo antes de nada
error-disk-full = { $path }: no queda sitio en el disco; no se escribió nada de esto. Libera espacio e inténtalo de nuevo
error-log-was-empty = { $path } estaba ahí y vacío; en él empieza un registro nuevo. Si ahí había un registro, sus anotaciones ya no están en él: busca una copia
error-read-only = { $path }: no se puede escribir en el registro (archivo o carpeta de solo lectura)
error-gone = { $path }: el registro se borró, movió o sustituyó mientras estaba abierto; no se escribió nada de esto. Ábrelo de nuevo
error-busy = { $path }: otro programa está escribiendo en el registro; inténtalo de nuevo
error-not-a-sealed-log = { $path }: no es un registro sellado, o lo selló un Ebbstead más nuevo
error-wrong-passphrase = { $path }: la frase de contraseña no lo abre; no se cambió nada. Si no dudas de ella, puede que estén dañadas las primeras líneas del archivo
error-damaged-sealed-log = { $path }: el registro sellado está dañado ({ $what }); no se tomó nada de él. Usa otra copia
error-database = { $path }: no se pudo usar el registro ({ $source })
file-exists = ya existe un archivo así, y se dejó como está; elige otro nombre
file-not-found = no existe tal archivo o carpeta
file-permission-denied = el sistema no lo permite
file-is-a-folder = esto es una carpeta
quantity-glucose = glucosa
quantity-limit-of-too-low-to-measure = límite de demasiado baja para medirla
quantity-limit-of-too-high-to-measure = límite de demasiado alta para medirla
quantity-insulin = insulina
quantity-carbohydrate = hidratos
quantity-alcohol = alcohol
quantity-activity = actividad
quantity-sleep = sueño
quantity-country = país
quantity-language = idioma
quantity-morning = mañana
quantity-ketones = cetonas
quantity-time-until-the-morning = tiempo hasta la mañana
quantity-length-of-the-drive = duración del trayecto
quantity-length-of-the-movement = duración de la actividad
quantity-compression-low = tramo con el sensor presionado
quantity-low-line = límite bajo
quantity-high-line = límite alto
quantity-insulin-factor = factor de insulina
quantity-carbohydrate-factor = factor de hidratos
quantity-rated-length = duración prevista
quantity-lead-time = plazo de entrega
quantity-amount-of-a-supply = cantidad de un suministro
quantity-price = precio
quantity-quote = oferta
quantity-currency = moneda
quantity-chance = probabilidad
quantity-time = hora
quantity-hours = horas
quantity-text = texto
quantity-source = origen
quantity-passphrase = frase de contraseña
quantity-retraction = retirada
quantity-bluetooth-message = mensaje Bluetooth
quantity-contact-number = número del contacto
quantity-correction = corrección
quantity-days = días
quantity-delay = retraso
quantity-document = documento
quantity-emergency-number = número de emergencias
quantity-entry = anotación
quantity-expiry-date = fecha de caducidad
quantity-header = encabezado
quantity-alert-for-highs = alerta de valores altos
quantity-alert-for-lows = alerta de valores bajos
quantity-alert-for-a-lost-signal = alerta de señal perdida
quantity-alert-for-rates = alerta de cambios rápidos
quantity-identity = identidad
quantity-log = registro
quantity-log-file = archivo del registro
quantity-number = número
quantity-other-log = otro registro
quantity-period = período
quantity-repetition = repetición
quantity-sensor = sensor
quantity-setting = ajuste
quantity-snooze = pausa
quantity-table-of-events = tabla de eventos
quantity-zone = zona horaria
why-empty = está vacío
why-too-long = supera los { $most } bytes
why-control-characters = contiene caracteres de control
why-not-one-line = debe ser una sola línea de { $most } bytes como máximo
why-malformed = «{ $given }»; escríbelo como { $like }
why-not-dialled = da de 2 a 15 cifras, como +49 30 123456
why-no-number = no es un número
why-two-ways = { $given } puede ser dos números; escríbelo sin signo de millares
why-corrected-elsewhere = se corrigió después en otro dispositivo; indica la entrada que quieres retirar
why-fits-other-unit = solo encaja con la otra unidad
why-ketones-too-high = es más de lo que el medidor puede medir: llama ya a tu equipo sanitario o a emergencias, como diga tu plan para días de enfermedad. Para anotarlo, escribe el número más alto que muestra el medidor
why-outside-years = está fuera de los años { $first } a { $last }
why-offset-from-utc = está a { $minutes } minutos de UTC
why-same-hours = da dos horas distintas entre las 00:00 y las 23:59
why-in-future = { $at } está en el futuro para el reloj de este aparato ({ $clock }); comprueba ambos
why-ends-before-it-begins = termina antes de empezar
why-over-a-day = dura más de 24 horas
why-not-after = { $until } no es posterior a { $from }
why-pieces-come-whole = debe ser un número entero de piezas
why-names-no-price = no indica un precio
why-names-no-entry = no indica ninguna anotación
why-not-its-own = no es la de esta lectura
why-few-characters = necesita al menos { $least } caracteres; varias palabras se recuerdan mejor
why-few-different = necesita al menos { $least } caracteres distintos
why-retract-instead = oculta la anotación; retírala en su lugar
why-import-only-renamed = a una importación solo se le puede cambiar el nombre
why-import-taken-back = la anotación llegó con una importación que se retiró; recupera antes la importación
why-has-entries = ya tiene anotaciones; incorpora el otro como de otro aparato
why-cannot-be-taken = no se puede incorporar
why-cannot-be-compared = no se puede comparar
why-no-such-sensor = ese sensor no está en el registro
why-merge-warnings = algo desaconseja incorporarlo
why-no-home-folder = no hay carpeta personal; di dónde está el registro
why-one-offset = una tabla de eventos necesita una sola diferencia con UTC
why-needs-columns = necesita las columnas { $names }
damage-side-file-alone = el archivo falta o está vacío, pero el que está a su lado con -wal en el nombre contiene anotaciones
damage-first-page = su primera página no se puede leer
damage-pages = sus páginas se contradicen
damage-auto-vacuum = otro programa lo reescribió con auto-vacuum
damage-ends-early = termina antes de tiempo
damage-table = una tabla no está como se hizo
damage-value = un valor es de un tipo equivocado
damage-row-too-large = una fila es mayor que cualquiera de las que se escriben
damage-reading = una lectura no está como se escribió
damage-entry = una anotación no está como se escribió
damage-setting = un ajuste no está como se escribió
damage-source-without-name = un origen no tiene nombre
damage-import-without-identity = una importación no tiene identidad
damage-stray = una anotación nombra un origen o una importación que no está
damage-identity = su propia identidad no está como se escribió
damage-head = se cambió su cabecera
damage-memory = abrirlo ocuparía más memoria de la que se da a cualquier registro sellado
damage-piece = se cambió un trozo de él
damage-empty = está vacío
damage-line = una línea no se puede leer
damage-reading-without-source = una lectura no tiene origen
damage-reading-cannot-be = una lectura no puede ser
damage-entry-cannot-be = una anotación no puede ser
damage-readings-out-of-order = sus lecturas están desordenadas
damage-lines-out-of-order = sus líneas están desordenadas
damage-counts = cuenta otra cosa que lo que contiene
damage-after-end = hay algo después de su final
damage-read-back = lo que se volvió a leer no es lo que se escribió
damage-side-file-head = los primeros bytes del archivo junto a él con -wal en su nombre no están como se escribieron
damage-side-file = el archivo junto a él con -wal en su nombre no está como se escribió
damage-side-file-lost = el archivo junto a él con -wal en su nombre falta o está cortado
damage-reading-before-source = una lectura es anterior al comienzo de su fuente
damage-source-start = el comienzo de una fuente no está como se escribió
damage-layout = su estructura dice versión { $found }
unit-units = unidades
unit-drinks = bebidas
unit-minutes = minutos
unit-days = días
unit-pieces = piezas
unit-of-the-currency = de la moneda
unit-as-a-share = como proporción
unit-mg-dl-a-unit = mg/dL por unidad
unit-mg-dl-a-gram = mg/dL por gramo

## words/shell

shell-screen-now = Ahora
shell-screen-night = Noche
shell-screen-log = Registro
shell-screen-settings = Ajustes
shell-look-now = Mirar ahora
shell-feel-low = Noto la glucosa baja
shell-feel-high = Noto la glucosa alta
shell-feel-neither = Ni baja ni alta
shell-severe-signs = Alguien está confuso, no puede tragar o no responde
shell-i-treated = He tratado una baja
shell-i-rolled-over = Ya no me apoyo en el sensor
shell-meter-shows = El medidor muestra
shell-sensor-inserted = Sensor nuevo puesto
shell-sensor-site = Dónde, con tus palabras
shell-sensor-fault = Qué le pasaba
shell-sensor-ended = Sensor retirado
shell-lot = Lote del envase
shell-by-day = De día
shell-by-night = De noche
shell-add = Guardar
shell-undo-last = Deshacer lo último
shell-put-right = Corregir
shell-take-back = Retirar
shell-log-empty = Nada anotado en este tiempo.
shell-nothing-to-undo = No queda nada que deshacer.
shell-taken-back = retirado
shell-kept = guardado en el registro
shell-unit = Unidad
shell-language = Idioma
shell-night-from = Empieza la noche
shell-night-until = Termina la noche
shell-weighing = Tratar sin necesidad frente a no ver una hipoglucemia
shell-weighing-sparing = Menos indicaciones de tratar, y más tarde
shell-weighing-balanced = Lo habitual
shell-insulin-factor = 1 unidad de insulina rápida baja
shell-carbohydrate-factor = 1 g de hidratos sube
shell-factors-from-care-team = Solo como los fijaste con tu equipo sanitario. Si quedan vacíos, no se supone nada.
shell-low-line = Límite bajo
shell-high-line = Límite alto
shell-alert-below = Alerta por debajo de
shell-alert-above = Alerta por encima de
shell-save = Guardar
shell-cancel = Cancelar
shell-screen-record = Historial
shell-screen-review = Revisión
shell-screen-sensors = Sensores
shell-screen-alerts = Alertas
shell-screen-learnt = Lo aprendido
shell-days-back = Cuántos días
shell-rated-days = Días que duran tus sensores
shell-show-these = Mostrar
shell-sensor-sheet = Ficha del sensor más reciente
shell-print-review = Guardar para imprimir o llevar
shell-try-delay = Avisar solo cuando la glucosa alta dura (minutos)
shell-try-repeat = Repetir cada (minutos)
shell-replay = Simular
shell-learn-now = Aprender ahora del registro
shell-nothing-learnt = Aún no se ha aprendido nada. Hacen falta unos días de lecturas.
shell-aims-name = Qué objetivos publicados
shell-aims-adult = Adultos con tipo 1 o tipo 2
shell-aims-older = Personas mayores o con riesgo alto
shell-aims-pregnancy = Embarazo con tipo 1
shell-compression-lows = Lecturas mientras el sensor estaba presionado
shell-compression-in = Contarlas
shell-compression-out = Omitirlas
shell-read-file = Leer un archivo de lecturas
shell-find-sensor = Buscar un sensor cercano
shell-screen-supplies = Suministros
shell-screen-outcomes = Resultados
shell-screen-copies = Copias
shell-which-supply = Qué suministro
shell-supply-stocked = Qué pasó
shell-supply-expires = Último día de uso, por ejemplo 2027-03-01, si lo sabes
shell-supply-currency = Moneda, tres letras
shell-supply-from = De quién, si quieres anotarlo
shell-lead-days = Días entre pedir y recibir
shell-statement = Datos para una carta sobre por qué necesitas el sensor
shell-save-text = Guardar como texto
shell-seal-log = Escribir una copia sellada de todo
shell-passphrase = Frase de contraseña, al menos { $least } caracteres
shell-passphrase-again = La misma frase de contraseña otra vez
shell-passphrase-lost = Nadie puede abrir la copia sin su frase de contraseña. Guárdala donde la encuentres.
shell-passphrase-of-copy = Su frase de contraseña, si está sellada
shell-merge = Incorporar
shell-merge-anyway = Incorporar de todos modos
shell-copy-restores = Este registro está vacío: con la copia vienen sus ajustes y lo aprendido.
shell-get-help = Pide ayuda
shell-help-now = Llama cuando alguien está confuso, no puede tragar o no responde.
shell-help-meanwhile = Nada de comer ni de beber para quien no puede tragar. Ponle de lado y quédate. Glucagón, si lo hay y te enseñaron cómo.
shell-call-emergency = Llamar al
shell-call-contact = Llamar a tu contacto
shell-emergency-number = Número de emergencias
shell-contact-number = Número de tu contacto
shell-meter = Medidor
shell-feel-low-short = Noto baja
shell-more = Mostrar todo
shell-less = Mostrar menos
shell-back = Atrás
shell-add-entry = Añadir
shell-first-title = Antes de empezar
shell-first-is = Si te despierta una alarma, esto te ayuda a decidir: tratar, medir con el medidor o esperar. Funciona solo en este teléfono, sin la red.
shell-agree = Lo entiendo
shell-next = Siguiente
shell-where-from = De dónde vienen las lecturas
shell-sensor-why = Un sensor que habla los servicios estándar de glucosa de Bluetooth. El teléfono preguntará si se pueden buscar dispositivos cercanos.
shell-sensor-refused = No se pueden buscar dispositivos cercanos: permítelo en los ajustes del teléfono y activa el Bluetooth.
shell-file-why = Una tabla o un Bundle de HL7 FHIR. El teléfono te dejará elegir el archivo; no se lee nada más.
shell-no-readings = Aún no hay lecturas
shell-read-only-log = El registro solo se puede leer: no se guarda nada. Decide por lo que muestra, y anota en papel.
shell-alerts-off = Es posible que las alertas no suenen: el teléfono retiene notificaciones de esta aplicación o su sonido, o no deja que llenen la pantalla bloqueada. Permítelo todo en los ajustes del teléfono.
shell-snooze = En { $minutes } minutos
shell-late-answer = No se ha anotado: esta alerta saltó a las { $clock }. Anótalo en el registro con la hora en que ocurrió.
shell-standing-channel = Lectura más reciente
shell-quiet-channel = Alertas discretas y avisos
shell-left-channel = Alertas sin responder
shell-wakes-allowed = Dejar que las alertas me despierten
shell-wakes-why = El teléfono preguntará si se pueden mostrar notificaciones. Sin ellas no suena nada. Después puede preguntar si una alerta de la noche puede llenar la pantalla bloqueada: permítelo, o la pantalla seguirá oscura.
shell-silent-mutes = Ninguna alerta suena mientras este teléfono está en silencio, ni tras un reinicio hasta que se desbloquea una vez. No cierres esta aplicación deslizándola: entonces el sensor ya no la inicia.
shell-locked-after-start = Desbloquea este teléfono: hasta entonces no se vigila ninguna lectura ni puede sonar ninguna alerta.
shell-try-alert = Sonar una vez, de prueba
shell-tried-alert = Prueba: así suenan las alertas.
shell-done = Empezar
shell-keep-plan = Usar estos límites para las alertas desde ahora
shell-lost-after = Avisar de señal perdida después de (minutos)
shell-screen-before = Antes
shell-before-open = Antes de dormir, de conducir, de la actividad
shell-before-what = Qué viene ahora
shell-before-sleep = Dormir
shell-before-driving = Conducir
shell-before-activity = Actividad
shell-before-sleep-open = Antes de dormir
shell-sensor-found = encontrado
shell-sensor-connected = conectado
shell-sensor-lost = fuera de alcance
shell-leave-source = Dejar de leer
shell-read-health = Leer los datos de salud del teléfono
shell-health-why = Glucosa que otras aplicaciones guardan en los datos de salud del teléfono. El teléfono preguntará qué se puede leer; no se escribe nada.
shell-health-refused = El teléfono no permite leer sus datos de salud. Permite la glucosa a esta aplicación en los ajustes del teléfono.
shell-health-missing = Este teléfono no tiene datos de salud que se puedan leer. Elige otra fuente.
shell-health-busy = Ahora no se pueden leer los datos de salud del teléfono. Se vuelve a intentar solo.
shell-health-failed = No se pudieron leer los datos de salud del teléfono. Se vuelve a intentar solo; mientras tanto, mide con el medidor.
shell-health-stays = La glucosa se lee de los datos de salud del teléfono y pasa al registro de este teléfono, para sus respuestas y alertas. Allí no se escribe nada, y esta aplicación no puede usar ninguna red.
shell-no-medical-device = Esto no es un producto sanitario y no indica ninguna dosis. El plan de tu equipo sanitario va por delante. Una hipoglucemia grave necesita a una persona: pide ayuda.
advice-give-amount-from-to = Da un valor de { $low } a { $high } { $unit }.
advice-time-cannot-be-lies-ahead = Esta hora no puede ser: va por delante del reloj de este teléfono o está fuera de 2000 a 2199. Comprueba ambas cosas.
advice-write-short-text-without-control = Escribe un texto corto sin caracteres de control.
advice-write-number-such-as-5 = Escribe un número, por ejemplo 5,8.
advice-amount-only-fits-other-unit = Este valor solo encaja en la otra unidad. Comprueba la unidad en los ajustes.
advice-ketones-too-high = Es más de lo que el medidor puede medir: llama ya a tu equipo sanitario o a emergencias, como diga tu plan para días de enfermedad. Para anotarlo, escribe el número más alto que muestra el medidor.
advice-cannot-be-taken-as-check = Esto no se puede tomar así. Comprueba lo que has dado.
advice-passphrase-does-not-open-file = La frase de contraseña no abre este archivo. No se cambió nada. Escríbela otra vez, palabra por palabra.
advice-no-sealed-log-or-newer = Esto no es un registro sellado, o lo selló un Ebbstead más nuevo.
advice-sealed-log-damaged-nothing-taken = El registro sellado está dañado; no se tomó nada de él. Usa otra copia.
advice-there-no-such-entry-in = No hay tal anotación en este registro.
advice-file-could-not-be-understood = No se pudo entender el archivo.
advice-file-cannot-be-opened-choose = No se puede abrir el archivo. Elígelo de nuevo.
advice-file-no-ebbstead-log-left = Este archivo no es un registro de Ebbstead. Se dejó como está.
advice-log-written-by-newer-ebbstead = El registro lo escribió un Ebbstead más nuevo y se dejó como está. Actualiza la aplicación.
advice-log-damaged-and-kept-as = El registro está dañado y se conservó como está. Cópialo antes de nada; hasta entonces decide con un medidor.
advice-log-was-empty = El archivo del registro estaba ahí y vacío; en él empieza uno nuevo. Si ya llevabas un registro, sus anotaciones ya no están en él: busca una copia.
advice-no-room-left-on-device = No queda sitio en este dispositivo: no se guardó nada de esto. Libera espacio e inténtalo de nuevo.
advice-log-cannot-be-written = No se puede escribir en el registro.
advice-log-deleted-moved-or-replaced = El registro se borró, movió o sustituyó mientras estaba abierto: no se guardó nada de esto. Ábrelo de nuevo.
advice-something-else-writing-to-log = Otra cosa está escribiendo en el registro. Inténtalo de nuevo.
advice-log-could-not-be-used = No se pudo usar el registro. Inténtalo de nuevo.
advice-log-not-open-open-app = El registro no está abierto. Abre la aplicación de nuevo; hasta entonces decide con un medidor.
shell-weighing-early = Indicaciones de tratar más pronto, y más de ellas innecesarias
shell-floor-stays = «Muy baja» se queda, y no se puede mover:
shell-supply-amount = Cuánto: piezas, unidades de insulina o gramos
shell-supply-price = Precio de todo, si quieres anotarlo
shell-write-table = Escribir una tabla para hojas de cálculo (CSV)
shell-write-bundle = Escribir un Bundle para historias clínicas (HL7 FHIR)
shell-passphrases-differ = Las dos son distintas. Escribe ambas de nuevo.
shell-recover-why = El archivo del registro está dañado. Lo que se puede leer se escribe en un registro nuevo, para que lo guardes. El dañado solo se lee y queda como está.
shell-recover-log = Guardar lo que se puede leer
shell-recover-then = Para seguir con él, incorpóralo a un registro vacío: lo toma todo, también los ajustes y lo aprendido. Guarda el dañado hasta que hayas revisado el nuevo.
shell-look-into-other = Mirar en otro registro o en una copia sellada
shell-nothing-new = Todo lo que contiene ya está en este registro.

## sentences/before, pages/before

before-start-help = No empieces. Pide ayuda.
before-start-treat-first = No empieces: trata antes.
before-start-not-after-severe-low = Hoy no: una hipoglucemia grave en las últimas 24 horas lo desaconseja.
before-start-not-with-ketones = No empieces: cetonas de { $amount } mmol/L o más. Sigue tu plan para días de enfermedad y llama a tu equipo.
before-start-not-while-ill = No empieces mientras tengas una enfermedad o vómitos. Sigue tu plan para días de enfermedad.
before-start-wait-after-low = Aún no: después de una hipoglucemia, espera a que la glucosa lleve 45 minutos normal.
before-start-check-first = Mide antes con el medidor.
before-start-raise-first = Súbela antes, y espera a que esté por encima de donde empiezan los rangos publicados.
before-start-small-first = Antes algo de hidratos; después puedes empezar.
before-start-insulin-to-come = Come algo antes, y luego mide de nuevo: hay más insulina anotada que comida, y con actividad baja más la glucosa.
before-start-light-only = Solo suave y corta: las cetonas están elevadas.
before-start-ketones-first = Alta: mide antes las cetonas, salvo que la explique una comida. Si no las hay, puedes empezar una actividad suave o moderada.
before-start-not-hard = Solo suave o moderada: una actividad intensa puede subirla más.
before-start-may-rise = Puedes empezar. Este tipo de actividad puede subirla al principio.
before-start-can = Puedes empezar.
before-no-chance-can-be-given-there = No se puede dar ninguna probabilidad: no hay ninguna lectura. Mide con el medidor.
before-no-chance-can-be-given-the = No se puede dar ninguna probabilidad: la lectura más reciente llegó { $ago }. Mide con el medidor, y pregunta de nuevo cuando lleguen lecturas.
before-no-chance-can-be-given-beyond = La probabilidad para más de una hora necesita medio día de lecturas; hay menos.
before-no-chance-is-given-before-that = No se da ninguna probabilidad antes de hacer eso: cambia lo que viene. Pregunta de nuevo después.
before-no-chance-can-be-given-so = No se puede dar ninguna probabilidad con tanta antelación: { $hours } horas es lo máximo. Pregunta de nuevo cuando falte menos.
before-no-chance-insulin-to-come = No se da ninguna probabilidad: hay más insulina anotada que comida, y puede bajarte la glucosa demasiado. Si era para una comida, come lo previsto, o anótalo si ya comiste. Pregunta de nuevo más tarde.
before-meter = medidor
before-sensor = sensor
before-do-that-first-then-ask-again = Haz eso antes. Después pregunta de nuevo, a las { $at } como muy tarde.
before-look-again-at-before-you-sleep = Vuelve a mirar a las { $at } antes de dormir.
before-look-once-in-the-night-set = Mira una vez durante la noche: pon una alarma hacia las { $at }.
before-nothing-seen-now-asks-for-a = Nada de lo que se ve ahora pide mirar durante la noche. Deja la alarma puesta.
before-check-with-a-meter-before-you = Mide con el medidor antes de dormir: lo que muestra el sensor no basta para guiarse.
before-you-are-close-to-your-low = Estás cerca de tu límite bajo, en { $amount }. El plan de tu equipo para la noche dice qué comer.
before-glucose-is-see-where-it-settles = La glucosa { $movement }. Mira dónde se estabiliza antes de dormir.
before-rapid-insulin-acts-until-about-a = La insulina rápida actúa hasta cerca de las { $until }. Pregunta otra vez entonces.
before-alcohol-lowers-late-until-the-next = El alcohol baja la glucosa tarde, hasta el mediodía siguiente, y oculta los signos. Come algo con él, avisa a alguien, deja la alarma alta.
before-your-lows-begin = En { $nights } de tus últimas { $of_nights } noches, una hipoglucemia empezó entre las { $from } y las { $to }.
before-you-moved-for-minutes-in-the = En el último día te moviste { $minutes } minutos. Eso baja la glucosa durante la noche; el plan de tu equipo dice qué hacer.
before-you-were-low-in-the-last = Tuviste la glucosa baja en las últimas 24 horas (la menor, { $amount }). La siguiente es más probable y se nota menos.
before-severe-signs-within-a-day = Anotaste signos de una hipoglucemia grave en las últimas 24 horas. La siguiente es más probable y se nota menos: avisa a alguien.
before-you-are-ill = Anotaste una enfermedad: mide glucosa y cetonas cada pocas horas, también de noche, y sigue tu plan para días de enfermedad.
before-you-vomit = Anotaste vómitos: puede que no retengas lo que comes. Mide glucosa y cetonas cada pocas horas, también de noche, y sigue tu plan para días de enfermedad.
before-do-not-drive-get-help = No conduzcas. Pide ayuda.
before-do-not-drive-treat-first = No conduzcas: trata antes.
before-do-not-drive-after-severe-low = No conduzcas: anotaste señales de una hipoglucemia grave en las últimas 24 horas. Pregunta a tu equipo sanitario cuándo puedes volver a conducir; las normas de tu país pueden exigir que lo comuniques.
before-check-with-a-meter-before-you-2 = Mide con el medidor antes de conducir.
before-do-not-drive-before-you-were = No conduzcas antes de las { $until } como muy pronto: tuviste la glucosa baja, la notaste baja o la trataste. Mide de nuevo entonces.
before-eat-something-first-then-check-again = Come algo antes, y luego mide de nuevo: esto está por debajo de lo que pide la norma.
before-a-low-on-the-way-is = Es probable una hipoglucemia por el camino. Haz antes algo para evitarla, y mide de nuevo antes de conducir.
before-do-not-drive-insulin-to-come = No salgas todavía: hay más insulina anotada que comida, y puede bajarte la glucosa demasiado. Si era para una comida, come lo previsto, o anótalo si ya comiste. Come algo antes, y luego mide de nuevo.
before-do-not-drive-on-alcohol = No conduzcas si has bebido: anotaste alcohol en las últimas horas, y además baja la glucosa durante horas.
before-do-not-drive-sick-day-first = No salgas todavía: la enfermedad o las cetonas van antes. Sigue tu plan para días de enfermedad, y conduce cuando esté resuelto.
before-your-glucose-meets-the-rule-now = Ahora tu glucosa cumple la norma. Si conduces o no, lo decides tú.
before-nothing-seen-now-speaks-against-it = Nada de lo que se ve ahora desaconseja conducir. Si puedes hacerlo, lo deciden las normas de tu lugar.
before-more-than-to-drive-at-or = Más de { $eat } para conducir. Con { $eat } o menos: come algo antes.
before-below-or-feeling-low-do-not = Por debajo de { $not_below }, o si notas la glucosa baja: no conduzcas.
before-check-less-than-hours-before-you = Mide menos de { $hours } horas antes de salir, y cada { $hours } horas por el camino.
before-after-a-low-wait-until-glucose = Después de una hipoglucemia, espera hasta que la glucosa lleve { $after } minutos de vuelta en lo normal.
before-source-driver-and-vehicle-licensing-agency = Fuente: Driver and Vehicle Licensing Agency (Reino Unido), folleto INF294, para coches y motos. Autobuses y camiones tienen normas más estrictas.
before-to-g = de { $least } a { $most } g
before-published-starting-point-of-glucose-your = Punto de partida publicado: { $range } de glucosa. El plan de tu equipo va por delante.
before-you-were-low-in-the-last-2 = Tuviste la glucosa baja en las últimas 24 horas (la menor, { $amount }): no vayas en solitario, ni donde una hipoglucemia es peligrosa, como en el agua.
before-rapid-insulin-was-taken-movement-makes = La insulina rápida se puso { $ago }. Con actividad baja más la glucosa.
before-alcohol-and-movement-both-lower = El alcohol y la actividad bajan la glucosa durante horas, y el alcohol oculta los signos. Come algo, no vayas sin compañía y mira a menudo.
before-glucose-is-already-steady-movement-takes = La glucosa ya { $movement }. Una actividad continua la lleva más lejos.
before-this-is-below-the-range-published = Está por debajo del rango publicado para tu riesgo de hipoglucemias.
before-ketones-of-mmol-l-are-raised = Unas cetonas de { $amount } mmol/L están elevadas. Mídelas de nuevo, y sigue tu plan para días de enfermedad.
before-less-than-minutes = Menos de { $minutes } minutos.
before-movement-in-the-evening-lowers-into = La actividad por la tarde-noche baja la glucosa durante la noche: pregunta de nuevo antes de dormir.
before-endurance = resistencia
before-intervals = intervalos
before-strength = fuerza
before-low-risk-of-lows = riesgo bajo de hipoglucemias
before-moderate-risk-of-lows = riesgo moderado de hipoglucemias
before-high-risk-of-lows = riesgo alto de hipoglucemias
before-if-a-low-comes-half-of = Si llega una hipoglucemia, la mitad de las veces es entre las { $from } y las { $to }. De noche, tus alertas suenan por debajo de { $rings }.
before-before-sleep = Antes de dormir
before-until = Hasta las { $until }
before-what-makes-a-low-likelier-tonight = Qué hace más probable una hipoglucemia esta noche
before-no-rule-for-is-known-here = Aquí no se conoce ninguna norma para { $country }. Las normas de tu lugar van por delante de todo lo de aquí.
before-no-country-is-set-so-no = No hay ningún país fijado, así que aquí no se conoce ninguna norma. Las normas de tu lugar van por delante de todo lo de aquí.
before-stop-and-check-at-at-the = Para y mide a las { $at } como muy tarde.
before-before-driving = Antes de conducir
before-over-the-drive = Durante el trayecto, { $length }
before-the-rule = La norma
before-keep-fast-carbohydrate-and-a-meter = Ten a mano hidratos de acción rápida y un medidor. Si notas la glucosa baja por el camino: para en cuanto sea seguro, y trata.
before-to = de { $from } a { $to }
before-published-range-to-start-in = rango publicado para empezar
before-the-chances-are-those-at-rest = Las probabilidades son las de reposo: no se sabe lo que añade la actividad, y una actividad continua hace más probable una hipoglucemia.
before-before-movement = Antes de la actividad
before-what-to-mind = Qué tener en cuenta
before-these-are-published-starting-points-your = Son puntos de partida publicados; el plan de tu equipo va por delante. Fuente: Riddell et al., Lancet Diabetes Endocrinol 2017;5:377-390; Moser et al., Diabetologia 2020;63:2501-2520.
before-feeling-low-counts-more-than-any = Notar la glucosa baja cuenta más que cualquier número de aquí. Nada de aquí dice cuánta insulina ponerse: eso lo dicen tu plan y tu equipo sanitario.
before-now = ahora
before-for-everybody = habitual { $everybody }
before-chance-of-a-reading-below = probabilidad de una lectura por debajo de { $line }
before-nothing-was-learnt-of-your-own = Aún no se ha aprendido nada de tus propias noches; estas probabilidades son las habituales.
before-of-your-own-last-nights-with = De tus últimas { $nights } noches con lecturas suficientes, { $low } tuvieron una por debajo de { $below } y { $floor } una por debajo de { $far_below }.
before-these-chances-are-everybody-s-your = Estas probabilidades son las habituales: las tuyas cuentan a partir de { $nights } noches.
before-these-chances-are-everybody-s-correcting = Estas probabilidades son las habituales: corregirlas con tus noches no mejoró las noches posteriores.
before-beyond-six-hours-they-are-carried = Más allá de seis horas se prolongan al mismo ritmo.
before-minutes = { $minutes } minutos
before-hours = { $hours } horas

## forms

form-before-until = Hasta
form-before-minutes = Cuánto tiempo
form-before-kind = De qué tipo
form-before-effort = Con qué intensidad
form-before-ketones = Cetonas en sangre, si acabas de medirlas
form-before-feels = Qué notas ahora
form-settings-lines = Límites
form-settings-whom-to-call = A quién llamar
form-settings-feels-lows = ¿Notas a tiempo las hipoglucemias?
form-settings-alone = ¿Sueles estar a solas, sin nadie cerca que pueda ayudar?
form-settings-costs-why = Si no siempre las notas, o no hay nadie cerca, una hipoglucemia perdida pesa más: los avisos de tratar llegan antes, y más de ellos sobran. Acuérdalo con tu equipo sanitario.
form-settings-yes = Sí
form-settings-no = No
form-settings-morning = Te levantas
form-settings-factors = Factores
form-settings-shown = País, unidad, idioma
form-settings-country = País, dos letras, por ejemplo ES o GB
form-settings-country-why = Para las normas antes de conducir. Si queda vacío, no se conoce ninguna norma.
form-log-kind = Qué añadir
form-log-meter = Medición con el medidor
form-log-rescue = Hidratos de rescate
form-log-rapid = Insulina rápida
form-log-meal = Hidratos con una comida
form-log-long-acting = Insulina lenta
form-log-feels = Qué notas
form-log-activity = Actividad
form-log-ketones = Cetonas en sangre
form-log-illness = Enfermedad
form-log-alcohol = Alcohol
form-log-sleep = Sueño
form-log-sensor = Sensor
form-log-note = Nota
form-log-amount = Un número
form-log-too-low = Demasiado baja para medirla (LO)
form-log-too-high = Demasiado alta para medirla (HI)
form-log-drinks = Cuántas bebidas
form-log-drink-is = Una bebida son unos { $grams } g de alcohol: un cuarto de litro de cerveza, o una décima de litro de vino.
form-log-how-ill = Cómo es la enfermedad
form-log-ill = Enfermedad: fiebre, una infección o malestar
form-log-vomiting = Vómitos, o no retienes nada
form-log-well-again = Bien de nuevo
form-log-activity-what = Qué hiciste, por ejemplo caminar
form-log-sensor-what = Qué pasó
form-log-warmed-up = Su calentamiento ha terminado
form-log-fault = Algo iba mal con él
form-log-rated-days = Días de duración prevista
form-log-asleep = Te dormiste a las
form-log-awake = Te despertaste a las
form-log-happened = Cuándo pasó
form-log-choose = Elige una opción.
form-log-above-0 = Da una cantidad por encima de 0 y hasta { $high } { $unit }.
form-log-sleep-length = Despertarse debe ser después de dormirse, y 24 horas más tarde como mucho.
form-log-unchanged = No se cambió nada.
form-clock-hour = 1 h
form-clock-earlier = { $length } antes: { $name }
form-clock-later = { $length } después: { $name }

## words/dates

date = { $day } { $month } { $year }
date-day-and-month = { $day } { $month }
date-time = { $date }, { $clock }
date-weekday = { $weekday }, { $date }
weekday-mon = lunes
weekday-tue = martes
weekday-wed = miércoles
weekday-thu = jueves
weekday-fri = viernes
weekday-sat = sábado
weekday-sun = domingo
month-1 = ene
month-2 = feb
month-3 = mar
month-4 = abr
month-5 = may
month-6 = jun
month-7 = jul
month-8 = ago
month-9 = sept
month-10 = oct
month-11 = nov
month-12 = dic
