package integrate

// maxStages bounds the stages of a method.
const maxStages = 8

// head sets y = y0 + Σ aⱼ kⱼ and r = Σ cⱼ kⱼ, both sums in one pass over the
// stages. There are as many a as c, at most five.
func head(y, r, y0 []float64, k [][]float64, a, c []float64) {
	n := len(y)
	y0, r = y0[:n], r[:n]
	switch len(c) {
	case 1:
		k1 := k[0][:n]
		a1, c1 := a[0], c[0]
		for x := range y {
			y[x] = y0[x] + a1*k1[x]
			r[x] = c1 * k1[x]
		}
	case 2:
		k1, k2 := k[0][:n], k[1][:n]
		a1, a2, c1, c2 := a[0], a[1], c[0], c[1]
		for x := range y {
			p, q := k1[x], k2[x]
			y[x] = y0[x] + (a1*p + a2*q)
			r[x] = c1*p + c2*q
		}
	case 3:
		k1, k2, k3 := k[0][:n], k[1][:n], k[2][:n]
		a1, a2, a3, c1, c2, c3 := a[0], a[1], a[2], c[0], c[1], c[2]
		for x := range y {
			p, q, u := k1[x], k2[x], k3[x]
			y[x] = y0[x] + (a1*p + a2*q + a3*u)
			r[x] = c1*p + c2*q + c3*u
		}
	case 4:
		k1, k2, k3, k4 := k[0][:n], k[1][:n], k[2][:n], k[3][:n]
		a1, a2, a3, a4 := a[0], a[1], a[2], a[3]
		c1, c2, c3, c4 := c[0], c[1], c[2], c[3]
		for x := range y {
			p, q, u, v := k1[x], k2[x], k3[x], k4[x]
			y[x] = y0[x] + ((a1*p + a2*q) + (a3*u + a4*v))
			r[x] = (c1*p + c2*q) + (c3*u + c4*v)
		}
	default:
		k1, k2, k3, k4, k5 := k[0][:n], k[1][:n], k[2][:n], k[3][:n], k[4][:n]
		a1, a2, a3, a4, a5 := a[0], a[1], a[2], a[3], a[4]
		c1, c2, c3, c4, c5 := c[0], c[1], c[2], c[3], c[4]
		for x := range y {
			p, q, u, v, w := k1[x], k2[x], k3[x], k4[x], k5[x]
			y[x] = y0[x] + ((a1*p + a2*q) + (a3*u + a4*v) + a5*w)
			r[x] = (c1*p + c2*q) + (c3*u + c4*v) + c5*w
		}
	}
}

// tail adds the last k to y and sets r = Σ cⱼ kⱼ, five to seven terms.
func tail(y, r []float64, k [][]float64, c []float64) {
	n := len(y)
	r = r[:n]
	k1, k2, k3, k4, k5 := k[0][:n], k[1][:n], k[2][:n], k[3][:n], k[4][:n]
	c1, c2, c3, c4, c5 := c[0], c[1], c[2], c[3], c[4]
	switch len(c) {
	case 5:
		for x := range y {
			w := k5[x]
			y[x] += w
			r[x] = (c1*k1[x] + c2*k2[x]) + (c3*k3[x] + c4*k4[x]) + c5*w
		}
	case 6:
		k6, c6 := k[5][:n], c[5]
		for x := range y {
			w := k6[x]
			y[x] += w
			r[x] = (c1*k1[x] + c2*k2[x]) + (c3*k3[x] + c4*k4[x]) + (c5*k5[x] + c6*w)
		}
	default:
		k6, c6, k7, c7 := k[5][:n], c[5], k[6][:n], c[6]
		for x := range y {
			w := k7[x]
			y[x] += w
			r[x] = (c1*k1[x] + c2*k2[x]) + (c3*k3[x] + c4*k4[x]) + (c5*k5[x] + c6*k6[x]) + c7*w
		}
	}
}
