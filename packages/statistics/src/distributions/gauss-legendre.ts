export interface QuadratureRule {
  /** On [-1, 1], rising. */
  readonly nodes: readonly number[];
  readonly weights: readonly number[];
}

/**
 * Nodes and weights of Gauss-Legendre quadrature on [-1, 1] (DLMF 3.5(v)): zeros of P_n by Newton's method from
 * cos(π(k - ¼)/(n + ½)), weights 2/((1 - x²) P'_n(x)²). To about 1e-15.
 *
 * @param count  number of points, at least 1
 */
export function gaussLegendre(count: number): QuadratureRule {
  const pairs: { readonly node: number; readonly weight: number }[] = [];
  for (let k = count; k >= 1; k--) {
    let x = Math.cos((Math.PI * (k - 0.25)) / (count + 0.5));
    let slope = 1;
    for (let step = 0; step < 10; step++) {
      let before = 1;
      let now = x;
      for (let n = 2; n <= count; n++) {
        const next = ((2 * n - 1) * x * now - (n - 1) * before) / n;
        before = now;
        now = next;
      }
      slope = (count * (x * now - before)) / (x * x - 1);
      x -= now / slope;
    }
    pairs.push({ node: x, weight: 2 / ((1 - x * x) * slope * slope) });
  }
  return { nodes: pairs.map((pair) => pair.node), weights: pairs.map((pair) => pair.weight) };
}
