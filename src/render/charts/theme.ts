import { templateText } from "../templates.js";

/** What the charts are drawn in: ink on paper with one blue and one ochre, and greys for bands. */
export interface Theme {
  readonly palette: {
    readonly paper: string;
    readonly ink: string;
    readonly quiet: string;
    readonly line: string;
    /** Light lines behind the marks. */
    readonly grid: string;
    /** What chance alone gives. */
    readonly chance: string;
    /** Class bands, lowest class first. */
    readonly bands: readonly string[];
    readonly blue: string;
    readonly blueTint: string;
    readonly ochre: string;
    readonly ochreTint: string;
  };
  /**
   * Width every figure is drawn for, px: the text column of an A4 page. Print makes it smaller, so that letters under 12 px
   * would be hard to read there.
   */
  readonly width: number;
  /** Vega-Lite's config: faces, axes, headers, legends and named styles of marks. */
  readonly config: Readonly<Record<string, unknown>> & { readonly font: string };
}

export const theme = JSON.parse(templateText("charts/theme.json")) as Theme;
