//! What was measured in and where it was taken.

codes! {
    /// The fluid: the low four bits of an octet.
    SampleType {
        /// Capillary whole blood.
        CapillaryWholeBlood = 1,
        /// Capillary plasma.
        CapillaryPlasma = 2,
        /// Venous whole blood.
        VenousWholeBlood = 3,
        /// Venous plasma.
        VenousPlasma = 4,
        /// Arterial whole blood.
        ArterialWholeBlood = 5,
        /// Arterial plasma.
        ArterialPlasma = 6,
        /// Whole blood, not said from where.
        UndeterminedWholeBlood = 7,
        /// Plasma, not said from where.
        UndeterminedPlasma = 8,
        /// Interstitial fluid.
        InterstitialFluid = 9,
        /// No fluid of a body: a solution to test the device with.
        ControlSolution = 10,
    }
}

codes! {
    /// The site: the high four bits of an octet.
    SampleLocation {
        /// A finger.
        Finger = 1,
        /// Another site than a finger.
        AlternateSite = 2,
        /// An earlobe.
        Earlobe = 3,
        /// No body: a solution to test the device with.
        ControlSolution = 4,
        /// Under the skin.
        Subcutaneous = 5,
        /// The device does not say.
        NotAvailable = 15,
    }
}

/// Splits an octet into fluid and site.
pub(super) const fn split(octet: u8) -> (SampleType, SampleLocation) {
    (SampleType::of(octet & 0x0F), SampleLocation::of(octet >> 4))
}

/// The octet of fluid and site.
pub(super) const fn joined(fluid: SampleType, location: SampleLocation) -> u8 {
    fluid.code() & 0x0F | location.code() << 4
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_octet_comes_back() {
        for octet in 0..=u8::MAX {
            let (fluid, location) = split(octet);
            assert_eq!(joined(fluid, location), octet);
        }
        assert_eq!(split(0x59), (SampleType::InterstitialFluid, SampleLocation::Subcutaneous));
        assert_eq!(split(0x11), (SampleType::CapillaryWholeBlood, SampleLocation::Finger));
        assert_eq!(split(0xF0), (SampleType::Reserved(0), SampleLocation::NotAvailable));
    }
}
