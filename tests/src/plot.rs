//! A reliability diagram as SVG: of the times a chance was stated, how often did it come?

use plotters::prelude::*;

use crate::evaluation::{Named, Stated};

/// Draws stated chances at falling readings against what came.
///
/// The size of a mark shows how many readings it stands for; its shape and colour, who stated them.
///
/// # Errors
/// A text that says why the diagram could not be drawn.
pub fn reliability_svg(stated: &[Named<Stated>], data: &str) -> Result<String, String> {
    let mut svg = String::new();
    draw(&mut svg, stated, data).map_err(|error| error.to_string())?;
    Ok(svg)
}

fn draw(svg: &mut String, stated: &[Named<Stated>], data: &str) -> Result<(), Box<dyn std::error::Error>> {
    let colours = [RGBColor(24, 74, 119), RGBColor(184, 92, 20), RGBColor(120, 120, 120)];
    let root = SVGBackend::with_string(svg, (720, 640)).into_drawing_area();
    root.fill(&WHITE)?;
    let title = format!("Chance of a low within 30 min at falling readings: {data}");
    let mut chart = ChartBuilder::on(&root)
        .caption(title, ("sans-serif", 18))
        .margin(16)
        .x_label_area_size(48)
        .y_label_area_size(56)
        .build_cartesian_2d(0.0..1.0, 0.0..1.0)?;
    let percent = |share: &f64| format!("{:.0} %", share * 100.0);
    chart
        .configure_mesh()
        .light_line_style(WHITE)
        .x_desc("chance stated")
        .y_desc("share that came")
        .x_label_formatter(&percent)
        .y_label_formatter(&percent)
        .draw()?;
    chart
        .draw_series(LineSeries::new([(0.0, 0.0), (1.0, 1.0)], BLACK.mix(0.4)))?
        .label("as stated")
        .legend(|(x, y)| PathElement::new([(x, y), (x + 18, y)], BLACK.mix(0.4)));
    for (shape, (Named { who, scores }, colour)) in stated.iter().zip(colours.into_iter().cycle()).enumerate() {
        let groups = scores.reliability();
        let line = groups.iter().map(|group| (group.said, group.came));
        chart
            .draw_series(LineSeries::new(line, colour.stroke_width(2)))?
            .label(*who)
            .legend(move |(x, y)| EmptyElement::at((x, y)) + mark(shape, (9, 0), 5, colour));
        chart.draw_series(groups.iter().map(|group| {
            // Area grows with the count: 4 px for ten readings, 14 px for ten thousand.
            let size = (group.count.max(1) as f64).log10().mul_add(3.3, 0.7).round() as i32;
            EmptyElement::at((group.said, group.came)) + mark(shape, (0, 0), size.max(3), colour)
        }))?;
    }
    chart
        .configure_series_labels()
        .position(SeriesLabelPosition::UpperLeft)
        .background_style(WHITE.mix(0.85))
        .border_style(BLACK.mix(0.3))
        .label_font(("sans-serif", 15))
        .draw()?;
    root.present()?;
    Ok(())
}

/// A mark whose shape distinguishes it from the others where colour cannot: a dot, a triangle, a cross.
fn mark<'a>(
    shape: usize,
    at: (i32, i32),
    size: i32,
    colour: RGBColor,
) -> DynElement<'static, SVGBackend<'a>, (i32, i32)> {
    match shape % 3 {
        0 => Circle::new(at, size, colour.mix(0.6).filled()).into_dyn(),
        1 => TriangleMarker::new(at, size + 2, colour.mix(0.6).filled()).into_dyn(),
        _ => Cross::new(at, size, colour.stroke_width(2)).into_dyn(),
    }
}
