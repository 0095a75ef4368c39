//! The switch that leaves the numbers of one size. It works by style alone: without it all sizes are there to read.

use maud::{Markup, html as markup};

use super::quoted;

/// The switch; nothing on a page of one size.
pub(super) fn switch(sizes: &[(usize, String)]) -> Markup {
    if sizes.len() < 2 {
        return Markup::default();
    }
    markup! {
        fieldset.switch {
            legend { "Show" }
            label { input type="radio" name="size" id="size-all" value="all" checked; span { "all sizes" } }
            @for (size, name) in sizes {
                label {
                    input type="radio" name="size" id={ "size-" (size) } value=(size);
                    span { (quoted(name)) }
                }
            }
        }
    }
}

/// The style that goes with it: what is not for the chosen size goes, and the brackets round the sizes with it.
pub(super) fn style(sizes: &[(usize, String)]) -> String {
    if sizes.len() < 2 {
        return String::new();
    }
    let rule = |(size, _): &(usize, String)| {
        let chosen = format!("body:has(#size-{size}:checked)");
        format!(
            "{chosen} [data-size]:not([data-size=\"{size}\"]),\n{chosen} [data-for]:not([data-for~=\"{size}\"]),\n\
             {chosen} .mark {{ display: none; }}\n{chosen} .picked[data-size=\"{size}\"] {{ display: block; }}\n"
        )
    };
    sizes.iter().map(rule).collect()
}
