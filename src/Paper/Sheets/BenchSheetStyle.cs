namespace Whetwright.Paper.Sheets;

/// <summary>The style of the page. Contrast of numbers on their ground is 7:1 or more in light and dark.</summary>
internal static class BenchSheetStyle
{
    internal const string Css = """
        :root { --ww-ink: #14181c; --ww-muted: #414b55; --ww-faint: #a9b2bb; --ww-accent: #0b3f8a; --ww-steel: #d5dbe1; --ww-stone: #ece7dd; --ww-paper: #fff; --ww-warn: #8a1c00; }
        @media (prefers-color-scheme: dark) {
          :root { --ww-ink: #eef1f4; --ww-muted: #bcc6cf; --ww-faint: #5f6b76; --ww-accent: #9cc9ff; --ww-steel: #3a434c; --ww-stone: #2e2b25; --ww-paper: #14181c; --ww-warn: #ffb59e; }
        }
        * { box-sizing: border-box; }
        html { -webkit-text-size-adjust: 100%; }
        body { margin: 0; background: var(--ww-paper); color: var(--ww-ink); font: 1rem/1.4 "DejaVu Sans", Verdana, system-ui, sans-serif; overflow-wrap: anywhere; }
        main { max-width: 62rem; margin: 0 auto; padding: 0.75rem; }
        header { display: flex; gap: 1rem; justify-content: space-between; align-items: flex-start; border-bottom: 3px solid var(--ww-ink); padding-bottom: 0.5rem; }
        h1 { font-size: 1.5rem; line-height: 1.2; margin: 0; }
        h2 { font-size: 1.15rem; margin: 0.9rem 0 0.3rem; }
        h3 { font-size: 1.05rem; margin: 0; }
        h3 small, .quiet, figcaption, dt, .side { color: var(--ww-muted); font-weight: 400; font-size: 0.875rem; }
        p { margin: 0.25rem 0; }
        ul { margin: 0.25rem 0; padding-left: 1.1rem; font-size: 0.9375rem; }
        .reference { font-size: 2rem; font-weight: 700; line-height: 1.1; margin: 0; white-space: nowrap; }
        .unseen { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
        .dials article { border-bottom: 1px solid var(--ww-faint); padding: 0.5rem 0; }
        .numbers { display: flex; flex-wrap: wrap; gap: 0 1.5rem; }
        .numbers p { margin: 0; }
        .numbers strong { font-size: 3.5rem; line-height: 1.05; color: var(--ww-accent); font-variant-numeric: tabular-nums; letter-spacing: -0.01em; }
        .numbers strong, .unit { overflow-wrap: normal; white-space: nowrap; }
        .unit { font-size: 1.25rem; font-weight: 700; color: var(--ww-accent); }
        .side { display: block; }
        .stale strong { text-decoration: line-through; text-decoration-thickness: 0.08em; }
        .stale li:first-child, .warn { font-weight: 700; color: var(--ww-warn); }
        figure { margin: 0.5rem 0; }
        svg { display: block; width: 100%; height: auto; }
        .rig svg { max-width: 34rem; margin: 0 auto; }
        .wide { display: none; }
        .facts { display: grid; grid-template-columns: repeat(auto-fit, minmax(8.5rem, 1fr)); gap: 0.4rem 1rem; margin: 0.25rem 0; }
        .facts dd { margin: 0; font-size: 1.3rem; font-weight: 700; }
        .pairs { margin: 0.25rem 0; }
        .pairs div { display: flex; justify-content: space-between; gap: 1rem; }
        .pairs dd { margin: 0; font-weight: 700; text-align: right; }
        .stages { list-style: none; padding: 0; margin: 0; }
        .stages label { display: flex; gap: 0.75rem; align-items: flex-start; min-height: 48px; padding: 0.35rem 0; }
        .stages input { width: 1.75rem; height: 1.75rem; flex: none; margin: 0; accent-color: var(--ww-accent); }
        .left-handed .stages label { flex-direction: row-reverse; justify-content: space-between; }
        .columns section { max-width: 26rem; }
        .box { border: 2px solid var(--ww-ink); padding: 0.25rem 0.75rem 0.5rem; margin-top: 0.75rem; }
        .box h2 { margin-top: 0.25rem; }
        footer { font-size: 0.875rem; color: var(--ww-muted); margin-top: 0.75rem; }
        @media (min-width: 44rem) {
          .top { display: grid; grid-template-columns: 5fr 4fr; gap: 1.5rem; align-items: start; }
          .left-handed .top { grid-template-columns: 4fr 5fr; }
          .left-handed .dials { order: 2; }
          .columns { display: grid; grid-template-columns: repeat(auto-fit, minmax(19rem, 1fr)); gap: 0 1.5rem; }
          .boxes { display: grid; grid-template-columns: repeat(auto-fit, minmax(18rem, 1fr)); gap: 0 1rem; }
          .wide { display: block; }
          .narrow { display: none; }
        }
        @page { size: A4 portrait; margin: 9mm; }
        @media print {
          :root { --ww-ink: #000; --ww-muted: #404850; --ww-faint: #a9b2bb; --ww-accent: #0b3f8a; --ww-steel: #d5dbe1; --ww-stone: #ece7dd; --ww-paper: #fff; --ww-warn: #000; }
          * { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
          html { font-size: 8.6pt; }
          html.dense { font-size: 7.7pt; }
          html.two { font-size: 7pt; }
          main { max-width: none; padding: 0; }
          h2 { margin: 0.35rem 0 0.1rem; }
          p, ul { margin: 0.1rem 0; line-height: 1.25; }
          ul { font-size: 0.85rem; }
          figure { margin: 0.1rem 0; }
          .top { display: grid; grid-template-columns: 5fr 3fr; gap: 1rem; }
          .dials h2 { display: none; }
          .dials article { padding: 0.15rem 0; display: grid; grid-template-columns: auto 1fr; gap: 0 1rem; }
          .dials article h3 { grid-column: 1 / -1; }
          .numbers { flex-wrap: nowrap; gap: 1rem; }
          .numbers strong { font-size: 3rem; }
          .columns { display: grid; grid-template-columns: repeat(4, 1fr); gap: 0 1rem; }
          .boxes { display: grid; grid-template-columns: 1fr 1fr; gap: 0 1rem; }
          .box { margin-top: 0.2rem; padding: 0 0.5rem 0.2rem; border-width: 1px; }
          .wide { display: block; }
          .narrow { display: none; }
          .wide svg { width: auto; max-width: 100%; height: 43mm; margin: 0 auto; }
          .clamps { display: grid; grid-template-columns: repeat(auto-fit, minmax(40%, 1fr)); gap: 0 1rem; }
          .clamp ~ .clamp .wide, .clamp:has(~ .clamp) .wide { display: none; }
          .clamp ~ .clamp .narrow, .clamp:has(~ .clamp) .narrow { display: block; }
          .clamp ~ .clamp .facts, .clamp:has(~ .clamp) .facts { grid-template-columns: repeat(3, auto); }
          .clamp .narrow svg { height: 42mm; width: auto; max-width: 100%; }
          .dense .dials article:has(.numbers p + p) { grid-template-columns: 1fr; }
          .dense .wide svg { height: 36mm; }
          .dense .numbers strong { font-size: 3.5rem; }
          .two .top { grid-template-columns: 1fr 46mm; }
          .two .dials { display: grid; grid-auto-flow: column; grid-template-rows: repeat(var(--rows), auto); grid-template-columns: 1fr 1fr; gap: 0 1rem; }
          .two .dials article { grid-template-columns: 1fr; }
          .left-handed .top { grid-template-columns: 3fr 5fr; }
          .facts { grid-template-columns: repeat(5, auto); gap: 0 1rem; }
          .stages label { min-height: 0; padding: 0.1rem 0; gap: 0.5rem; }
          .stages input { width: 1.3rem; height: 1.3rem; }
          footer { margin-top: 0.2rem; font-size: 0.8rem; }
          footer p { margin: 0; }
          section, article, figure { break-inside: avoid; }
        }

        """;
}
