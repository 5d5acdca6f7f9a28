/** A Vega-Lite specification or a part of one. Its own types do not survive strict optional properties. */
export type Spec = Readonly<Record<string, unknown>>;

/** A row of a figure's data. */
export type Row = Readonly<Record<string, unknown>>;

/** One picture: a Vega-Lite specification that names its data, and the data under those names. */
export interface Figure {
  readonly spec: Spec;
  readonly datasets: Readonly<Record<string, readonly Row[]>>;
}

/** A specification with its data and the look of the report, that opens in any editor of the grammar. */
export function standalone({ spec, datasets }: Figure, title: string, config: Spec): Spec {
  const own = spec.title as { readonly text?: readonly string[] } | undefined;
  return {
    $schema: "https://vega.github.io/schema/vega-lite/v6.json",
    ...spec,
    title: { ...own, text: [title, ...(own?.text ?? [])] },
    datasets,
    config,
  };
}

/** A field that says a place, a colour or a text by itself, without a scale. */
export const asGiven = (field: string): Spec => ({ field, type: "nominal", scale: null });
