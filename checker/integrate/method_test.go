package integrate

import (
	"math"
	"math/cmplx"
	"testing"
)

var methods = []*Method{&Rodas, &RodasP, &RodasP2, &Rodas5P}

// tableau is a method in the form with products by J: k = f(y + Σ αᵢⱼ kⱼ) + hJ Σ γᵢⱼ kⱼ.
// From the form it is used in: Γ = (diag(1/γ) − c)⁻¹, α = a Γ, b = m Γ. Source:
// Hairer and Wanner, Solving ODEs II, section IV.7, (7.24).
type tableau struct {
	alpha, beta    [][]float64 // β = α + Γ
	b, embedded    []float64
	alphas, gammas []float64   // row sums of α and Γ
	dense          [][]float64 // h Γ
}

func tableauOf(m *Method) tableau {
	n := m.stages()
	square := func() [][]float64 {
		rows := make([][]float64, n)
		for i := range rows {
			rows[i] = make([]float64, n)
		}
		return rows
	}
	a, inverse := square(), square()
	for i := range n {
		if i < len(m.a) {
			copy(a[i], m.a[i])
		} else {
			copy(a[i], a[i-1])
			a[i][i-1] = 1
		}
		inverse[i][i] = 1 / m.gamma
		for j, c := range m.c[i] {
			inverse[i][j] = -c
		}
	}
	gamma := square() // the inverse of a lower triangle, by forward substitution
	for j := range n {
		for i := j; i < n; i++ {
			rest := 0.0
			if i == j {
				rest = 1
			}
			for k := j; k < i; k++ {
				rest -= inverse[i][k] * gamma[k][j]
			}
			gamma[i][j] = rest / inverse[i][i]
		}
	}
	times := func(row []float64) []float64 {
		out := make([]float64, n)
		for k, v := range row {
			for j := range n {
				out[j] += v * gamma[k][j]
			}
		}
		return out
	}
	t := tableau{alpha: square(), beta: square(), alphas: make([]float64, n), gammas: make([]float64, n)}
	for i := range n {
		t.alpha[i] = times(a[i])
		for j := range n {
			t.beta[i][j] = t.alpha[i][j] + gamma[i][j]
			t.alphas[i] += t.alpha[i][j]
			t.gammas[i] += gamma[i][j]
		}
	}
	t.embedded = times(a[n-1])
	result := append([]float64(nil), a[n-1]...)
	result[n-1] = 1
	t.b = times(result)
	for _, h := range m.dense {
		t.dense = append(t.dense, times(h))
	}
	return t
}

// A tree is a rooted tree by the trees on its root.
type tree []tree

// treesOf lists the rooted trees of an order, each once.
func treesOf(order int) []tree {
	if order == 1 {
		return []tree{nil}
	}
	var list []tree
	var grow func(left, most, first int, on tree)
	grow = func(left, most, first int, on tree) {
		if left == 0 {
			list = append(list, append(tree(nil), on...))
			return
		}
		for size := min(left, most); size > 0; size-- {
			for i, t := range treesOf(size) {
				if size == most && i < first {
					continue // sizes fall, and within a size numbers rise
				}
				grow(left-size, size, i, append(on, t))
			}
		}
	}
	grow(order-1, order-1, 0, nil)
	return list
}

func (t tree) size() int {
	n := 1
	for _, s := range t {
		n += s.size()
	}
	return n
}

// density is the product of the sizes of the tree and of all trees within it.
func (t tree) density() float64 {
	d := float64(t.size())
	for _, s := range t {
		d *= s.density()
	}
	return d
}

// phi are the elementary weights of a tree: β where a vertex has one branch, α
// where it has several. Source: Hairer and Wanner, section IV.7, (7.14).
func (t tableau) phi(of tree) []float64 {
	out := make([]float64, len(t.b))
	for i := range out {
		out[i] = 1
	}
	by := t.alpha
	if len(of) == 1 {
		by = t.beta
	}
	for _, branch := range of {
		inner := t.phi(branch)
		for i := range out {
			out[i] *= dot(by[i], inner)
		}
	}
	return out
}

func dot(a, b []float64) float64 {
	s := 0.0
	for i, v := range a {
		s += v * b[i]
	}
	return s
}

// The number of order conditions is known: 1, 1, 2, 4, 9 rooted trees of orders 1
// to 5 (Hairer, Nørsett and Wanner, Solving ODEs I, table II.2.1).
func TestTreesAreComplete(t *testing.T) {
	for order, want := range []int{0, 1, 1, 2, 4, 9, 20} {
		if order > 0 && len(treesOf(order)) != want {
			t.Errorf("order %d: %d trees, want %d", order, len(treesOf(order)), want)
		}
	}
}

// Every coefficient takes part in the order conditions, b·Φ(t) = 1/γ(t) for each
// tree up to the order, of the result, of the embedded result (one less) and of the
// dense output, θ^ρ/γ(t) (one less). Source: Hairer and Wanner, section IV.7,
// theorem 7.4, and exercise on continuous extensions.
func TestOrderConditions(t *testing.T) {
	for _, m := range methods {
		// As many digits as the sizes of the coefficients leave.
		const accuracy = 5e-14
		x := tableauOf(m)
		for i := range x.alphas {
			if math.Abs(x.alphas[i]-m.alpha[i]) > accuracy || math.Abs(x.gammas[i]-m.shift[i]) > accuracy {
				t.Errorf("%s stage %d: Σα = %g, Σγ = %g, want %g, %g", m.Name, i+1, x.alphas[i], x.gammas[i], m.alpha[i], m.shift[i])
			}
		}
		for order := 1; order <= m.Order+1; order++ {
			result, embedded, inside := 0.0, 0.0, 0.0
			for _, of := range treesOf(order) {
				phi, want := x.phi(of), 1/of.density()
				result = max(result, math.Abs(dot(x.b, phi)-want))
				embedded = max(embedded, math.Abs(dot(x.embedded, phi)-want))
				for _, theta := range []float64{0.2, 0.5, 0.8} {
					b := make([]float64, len(phi))
					for j := range b {
						b[j] = theta * x.b[j]
						for q := range x.dense {
							b[j] += theta * (1 - theta) * math.Pow(theta, float64(q)) * x.dense[q][j]
						}
					}
					inside = max(inside, math.Abs(dot(b, phi)-math.Pow(theta, float64(order))*want))
				}
			}
			for _, c := range []struct {
				what  string
				error float64
				order int
			}{{"result", result, m.Order}, {"embedded result", embedded, m.Order - 1}, {"dense output", inside, m.Order - 1}} {
				if order <= c.order && c.error > accuracy {
					t.Errorf("%s: %s misses the conditions of order %d by %g", m.Name, c.what, order, c.error)
				}
				if order > c.order && c.error < 1e-5 {
					t.Errorf("%s: %s fulfils the conditions of order %d too", m.Name, c.what, order)
				}
			}
		}
	}
}

// stability is R(z) = 1 + z bᵀ (I − zβ)⁻¹ 1 of a result with weights b.
func (t tableau) stability(b []float64, z complex128) complex128 {
	r := complex(1, 0)
	k := make([]complex128, len(b))
	for i := range k {
		sum := complex(1, 0)
		for j := range i {
			sum += z * complex(t.beta[i][j], 0) * k[j]
		}
		k[i] = sum / (1 - z*complex(t.beta[i][i], 0))
		r += z * complex(b[i], 0) * k[i]
	}
	return r
}

// L-stability: |R| ≤ 1 along the imaginary axis and R(∞) = 0, also of the embedded
// result, and R follows the exponential to its order. Source: Hairer and Wanner,
// section IV.3, definition 3.7, and VI.4.
func TestStability(t *testing.T) {
	for _, m := range methods {
		x := tableauOf(m)
		for _, b := range [][]float64{x.b, x.embedded} {
			if r := cmplx.Abs(x.stability(b, -1e12)); r > 1e-10 {
				t.Errorf("%s: |R(−1e12)| = %g", m.Name, r)
			}
			for e := -3.0; e < 6; e += 0.01 {
				if r := cmplx.Abs(x.stability(b, complex(0, math.Pow(10, e)))); r > 1+1e-12 {
					t.Errorf("%s: |R| = 1 + %g at i 10^%.2f", m.Name, r-1, e)
					break
				}
			}
		}
		z := complex(-0.02, 0.03)
		want := math.Pow(cmplx.Abs(z), float64(m.Order+1))
		if off := cmplx.Abs(x.stability(x.b, z) - cmplx.Exp(z)); off > want {
			t.Errorf("%s: R(z) − exp z = %g, more than |z|^%d", m.Name, off, m.Order+1)
		}
	}
}
