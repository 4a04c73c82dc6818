import Ebbstead

/// The wearer's own settings. A choice holds at once; what is typed holds once it is kept.
public struct SettingsPresenter: Presenter {
    private static let typed: [FieldId] = [.lowLine, .highLine, .insulinFactor, .carbohydrateFactor, .ratedDays, .leadDays]

    private let companion: EbbsteadCompanion
    private var wearer: Wearer?
    private var drafts: [FieldId: String] = [:]
    private var advices: [FieldId: String] = [:]
    private var outcome = Outcome.nothing

    public init(_ companion: EbbsteadCompanion) {
        self.companion = companion
        read()
    }

    public var screen: Screen {
        let label = Vocabulary(companion: companion)
        guard let wearer else { return Screen(title: label(.screenSettings), blocks: outcome.blocks) }
        func field(_ id: FieldId, _ name: Label, unit: String? = nil) -> Block {
            .field(Field(id: id, name: label(name), unit: unit ?? label.unit, typed: drafts[id] ?? "", advice: advices[id]))
        }
        let blocks: [Block] = [
            choice(label(.unit), [(GlucoseUnit.mgDl, "mg/dL"), (.mmolL, "mmol/L")], wearer.unit, Action.unit),
            choice(
                label(.language), [(.english, label(.englishName)), (.german, label(.germanName))], wearer.language,
                Action.language),
            field(.lowLine, .lowLine), .text(label(.floorStays)), field(.highLine, .highLine),
            .time(TimeField(id: .nightFrom, name: label(.nightFrom), minuteOfDay: Int(wearer.nightFromMinute))),
            .time(TimeField(id: .nightUntil, name: label(.nightUntil), minuteOfDay: Int(wearer.nightUntilMinute))),
            choice(
                label(.weighing),
                [(.sparing, label(.weighingSparing)), (.balanced, label(.weighingBalanced)), (.early, label(.weighingEarly))],
                wearer.weighing, Action.weighing),
            field(.insulinFactor, .insulinFactor), field(.carbohydrateFactor, .carbohydrateFactor),
            .text(label(.factorsFromCareTeam)),
            field(.ratedDays, .ratedDays, unit: ""), field(.leadDays, .leadDays, unit: ""), .button(Button(name: label(.save), action: .save, isMain: true)),
            .text(label(.noMedicalDevice)),
        ]
        return Screen(title: label(.screenSettings), blocks: outcome.blocks + blocks)
    }

    public func typing(_ text: String, into field: FieldId) -> Self {
        var next = self
        if Self.typed.contains(field) {
            next.drafts[field] = text
            next.advices[field] = nil
        }
        return next
    }

    public func setting(_ field: FieldId, toMinute minute: Int) -> Self {
        var next = self
        guard let small = UInt16(exactly: minute) else { return next }
        switch field {
        case .nightFrom: next.wearer = wearer?.with(nightFromMinute: small)
        case .nightUntil: next.wearer = wearer?.with(nightUntilMinute: small)
        default: break
        }
        return next
    }

    public func after(_ action: Action, at now: Moment) -> Self {
        var next = self
        // What is typed stays, whatever changes elsewhere.
        if action == .refresh { return next }
        next.outcome = .nothing
        switch action {
        case .unit(let unit): next.keep(at: now) { $0.with(unit: unit) }
        case .language(let language): next.keep(at: now) { $0.with(language: language) }
        case .weighing(let weighing): next.keep(at: now) { $0.with(weighing: weighing) }
        case .save: next.keep(at: now) { $0 }
        default: next.read()
        }
        return next
    }

    private func choice<T: Equatable>(_ name: String, _ options: [(T, String)], _ chosen: T, _ action: (T) -> Action) -> Block {
        .choice(Choice(name: name, options: options.map { .init(name: $0.1, action: action($0.0), isChosen: $0.0 == chosen) }))
    }

    private mutating func read() {
        do {
            let kept = try companion.settings().wearer()
            let words = try companion.words()
            drafts = [
                .lowLine: try words.bareAmount(mgDl: kept.lowLineMgDl),
                .highLine: try words.bareAmount(mgDl: kept.highLineMgDl),
                .insulinFactor: try kept.insulinFactorMgDlPerUnit.map(words.difference) ?? "",
                .carbohydrateFactor: try kept.carbohydrateFactorMgDlPerG.map(words.difference) ?? "",
                .ratedDays: kept.sensorRatedDays.map { String($0) } ?? "",
                .leadDays: kept.reorderLeadDays.map { String($0) } ?? "",
            ]
            (wearer, advices) = (kept, [:])
        } catch {
            outcome = .failed(advice(error))
        }
    }

    /// Keeps what is typed together with one change. What is typed is in the unit it was typed in; it is read before the
    /// unit becomes another, and all of it or nothing is kept.
    private mutating func keep(at now: Moment, change: (Wearer) -> Wearer) {
        guard let kept = wearer else { return read() }
        advices = [:]
        func amount(_ id: FieldId, kept: Double, _ read: (String) throws -> Double, _ write: (Double) throws -> String) -> Double {
            let text = drafts[id] ?? ""
            // What nobody touched stays to the last digit, whatever its rounded text would say.
            if let same = try? write(kept), same == text { return kept }
            do { return try read(text) } catch {
                advices[id] = advice(error)
                return kept
            }
        }
        do {
            let words = try companion.words()
            func factor(_ id: FieldId, kept: Double?) -> Double? {
                if (drafts[id] ?? "").allSatisfy(\.isWhitespace) { return nil }
                return amount(id, kept: kept ?? .nan, words.readDifferenceMgDl, words.difference)
            }
            func days(_ id: FieldId) -> UInt16? {
                guard let text = drafts[id], !text.allSatisfy(\.isWhitespace) else { return nil }
                do {
                    // What is no whole number of days is left to the core to refuse.
                    return UInt16(exactly: try words.readNumber(typed: text)) ?? .max
                } catch {
                    advices[id] = advice(error)
                    return nil
                }
            }
            let typed = kept.with(
                lowLineMgDl: amount(.lowLine, kept: kept.lowLineMgDl, words.readGlucose, words.bareAmount),
                highLineMgDl: amount(.highLine, kept: kept.highLineMgDl, words.readGlucose, words.bareAmount),
                insulinFactorMgDlPerUnit: .some(factor(.insulinFactor, kept: kept.insulinFactorMgDlPerUnit)),
                carbohydrateFactorMgDlPerG: .some(factor(.carbohydrateFactor, kept: kept.carbohydrateFactorMgDlPerG)),
                sensorRatedDays: .some(days(.ratedDays)), reorderLeadDays: .some(days(.leadDays)))
            guard advices.isEmpty else { return }
            try companion.settings().setWearer(wearer: change(typed), now: now)
            read()
            outcome = .said(Vocabulary(companion: companion)(.kept))
        } catch ApiError.InvalidInput(let field, let advice) {
            switch field {
            case "low line": advices[.lowLine] = advice
            case "high line": advices[.highLine] = advice
            case "insulin factor": advices[.insulinFactor] = advice
            case "carbohydrate factor": advices[.carbohydrateFactor] = advice
            case "rated length": advices[.ratedDays] = advice
            case "lead time": advices[.leadDays] = advice
            default: outcome = .failed(advice)
            }
        } catch {
            outcome = .failed(advice(error))
        }
    }
}

extension Wearer {
    /// The same settings but for those given.
    func with(
        unit: GlucoseUnit? = nil, language: Language? = nil, lowLineMgDl: Double? = nil, highLineMgDl: Double? = nil,
        nightFromMinute: UInt16? = nil, nightUntilMinute: UInt16? = nil, weighing: Weighing? = nil,
        insulinFactorMgDlPerUnit: Double?? = nil, carbohydrateFactorMgDlPerG: Double?? = nil,
        sensorRatedDays: UInt16?? = nil, reorderLeadDays: UInt16?? = nil
    ) -> Wearer {
        Wearer(
            unit: unit ?? self.unit, language: language ?? self.language, lowLineMgDl: lowLineMgDl ?? self.lowLineMgDl,
            highLineMgDl: highLineMgDl ?? self.highLineMgDl, nightFromMinute: nightFromMinute ?? self.nightFromMinute,
            nightUntilMinute: nightUntilMinute ?? self.nightUntilMinute, weighing: weighing ?? self.weighing,
            insulinFactorMgDlPerUnit: insulinFactorMgDlPerUnit ?? self.insulinFactorMgDlPerUnit,
            carbohydrateFactorMgDlPerG: carbohydrateFactorMgDlPerG ?? self.carbohydrateFactorMgDlPerG,
            sensorRatedDays: sensorRatedDays ?? self.sensorRatedDays, reorderLeadDays: reorderLeadDays ?? self.reorderLeadDays,
            emergencyNumber: emergencyNumber, contactNumber: contactNumber)
    }
}
