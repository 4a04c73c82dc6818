//! The inks of a screen: sand and water by day, the tide at night. One look for every shell that draws; every meaning is also a word, a
//! weight or a shape.

/// By what light a screen is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Light {
    /// By day.
    Day,
    /// Where the phone is set to dark.
    Dark,
    /// For eyes that were shut a moment ago: nothing on it is bright.
    Night,
}

/// Inks in sRGB, each three bytes: red, green, blue. Text keeps a contrast of at least 4.5 to what it lies on, shapes one of 3 (WCAG 2.2,
/// 1.4.3 and 1.4.11, level AA).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Inks {
    /// What all lies on.
    pub ground: u32,
    /// A card, a field.
    pub raised: u32,
    /// Text.
    pub ink: u32,
    /// Text beside it.
    pub quiet: u32,
    /// Buttons, what is chosen, paths.
    pub water: u32,
    /// Text on that.
    pub on_water: u32,
    /// A surface behind text.
    pub tint: u32,
    /// The edge of a surface.
    pub edge: u32,
    /// The lines across a chart.
    pub shore: u32,
}

impl Inks {
    /// Those for a light.
    #[must_use]
    pub const fn of(light: Light) -> Self {
        match light {
            Light::Day => Self {
                ground: 0x00F6_F2E8,
                raised: 0x00FC_FAF4,
                ink: 0x0014_222A,
                quiet: 0x004B_5A61,
                water: 0x001F_5566,
                on_water: 0x00FF_FFFF,
                tint: 0x00D8_E6E8,
                edge: 0x005B_828B,
                shore: 0x006B_5B3E,
            },
            Light::Dark => Self {
                ground: 0x000D_161B,
                raised: 0x0015_2229,
                ink: 0x00E9_E3D6,
                quiet: 0x00AA_B5B7,
                water: 0x0094_C8D4,
                on_water: 0x000D_161B,
                tint: 0x001B_323A,
                edge: 0x006F_9DA8,
                shore: 0x00C2_AE86,
            },
            Light::Night => Self {
                ground: 0x0005_090B,
                raised: 0x000C_1417,
                ink: 0x00B9_AE9A,
                quiet: 0x008A_8677,
                water: 0x007F_A5AB,
                on_water: 0x0005_090B,
                tint: 0x0013_211F,
                edge: 0x005E_7F80,
                shore: 0x0094_835F,
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn luminance(ink: u32) -> f64 {
        let part = |shift: u32| {
            let share = f64::from(ink >> shift & 0xFF) / 255.0;
            if share <= 0.04045 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * part(16) + 0.7152 * part(8) + 0.0722 * part(0)
    }

    /// WCAG 2.2's contrast of two inks, 1 to 21.
    fn contrast(one: u32, other: u32) -> f64 {
        let (one, other) = (luminance(one) + 0.05, luminance(other) + 0.05);
        one.max(other) / one.min(other)
    }

    #[test]
    fn text_and_shapes_stand_out_in_every_light() {
        for light in [Light::Day, Light::Dark, Light::Night] {
            let Inks { ground, raised, ink, quiet, water, on_water, tint, edge, shore } = Inks::of(light);
            let texts =
                [(ink, ground), (ink, raised), (ink, tint), (quiet, ground), (quiet, raised), (on_water, water)];
            for (text, on) in texts.into_iter().chain([(water, ground), (water, raised)]) {
                assert!(contrast(text, on) >= 4.5, "{light:?}: {text:06X} on {on:06X}");
            }
            for (shape, on) in [(water, tint), (edge, ground), (shore, ground)] {
                assert!(contrast(shape, on) >= 3.0, "{light:?}: {shape:06X} on {on:06X}");
            }
        }
    }
}
