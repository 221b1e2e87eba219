package compass

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// Reference: the normal equations of weighted least squares with the prior as
// observations, solved by gonum's mat: (P0⁻¹ + HᵀR⁻¹H) x = P0⁻¹ m0 + HᵀR⁻¹ z. Fed
// one by one, without time between, the filter must come to the same.
func TestFilterIsLeastSquares(t *testing.T) {
	for seed := range uint64(5) {
		r := rand.New(rand.NewPCG(seed, 1))
		f := newFilter(goodDeg, stillKn)
		info, rhs := mat.NewSymDense(terms, nil), mat.NewVecDense(terms, nil)
		for i := range terms {
			info.SetSym(i, i, 1/f.priorVar[i])
			rhs.SetVec(i, f.prior[i]/f.priorVar[i])
		}
		for range 60 {
			var h vector
			for i := range h {
				h[i] = r.NormFloat64()
			}
			z, v := 8*r.NormFloat64(), 1+5*r.Float64()
			row := mat.NewVecDense(terms, h[:])
			info.SymRankOne(info, 1/v, row)
			rhs.AddScaledVec(rhs, z/v, row)
			f.learn(h, z-dot(h, f.mean), v)
		}
		var chol mat.Cholesky
		if !chol.Factorize(info) {
			t.Fatal("the reference cannot be solved")
		}
		var want mat.VecDense
		var cov mat.SymDense
		if err := chol.SolveVecTo(&want, rhs); err != nil {
			t.Fatal(err)
		}
		if err := chol.InverseTo(&cov); err != nil {
			t.Fatal(err)
		}
		for i := range terms {
			if math.Abs(f.mean[i]-want.AtVec(i)) > 1e-7 {
				t.Errorf("term %d: %v, least squares gives %v", i, f.mean[i], want.AtVec(i))
			}
			for j := range terms {
				if math.Abs(f.cov[i][j]-cov.At(i, j)) > 1e-7 {
					t.Errorf("covariance %d, %d: %v, least squares gives %v", i, j, f.cov[i][j], cov.At(i, j))
				}
			}
		}
	}
}

// The logarithms that learn returns must add up to that of the joint density of all
// observations, which gonum gives by the determinant of their covariance.
func TestLikelihoodIsTheJointDensity(t *testing.T) {
	const n = 6
	r := rand.New(rand.NewPCG(9, 9))
	f := newFilter(badDeg, tidalKn)
	prior := f
	var hs [n]vector
	cov, resid := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	got := 0.0
	for k := range hs {
		for i := range hs[k] {
			hs[k][i] = r.NormFloat64()
		}
		z := 10 * r.NormFloat64()
		resid.SetVec(k, z-dot(hs[k], prior.mean))
		got += f.learn(hs[k], z-dot(hs[k], f.mean), 2)
	}
	for i := range n {
		for j := range i + 1 {
			v := dot(hs[i], prior.times(hs[j]))
			if i == j {
				v += 2
			}
			cov.SetSym(i, j, v)
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(cov) {
		t.Fatal("the reference cannot be solved")
	}
	var x mat.VecDense
	if err := chol.SolveVecTo(&x, resid); err != nil {
		t.Fatal(err)
	}
	if want := -(mat.Dot(resid, &x) + chol.LogDet()) / 2; math.Abs(got-want) > 1e-8 {
		t.Errorf("got %v, the joint density gives %v", got, want)
	}
}

// Left alone for very long, each term is its prior again.
func TestForgettingEndsInThePrior(t *testing.T) {
	f := newFilter(goodDeg, stillKn)
	prior := f
	f.learn(vector{termA: 1, termB: 0.3, termEast: 5, termLeg: 1, termLeeway: -1}, 9, 1)
	if f.mean == prior.mean {
		t.Fatal("nothing was learned")
	}
	before := f.cov[termA][termA]
	f.pass(600)
	if got := f.cov[termA][termA] - before; got <= 0 || got > walkDeg*walkDeg {
		t.Errorf("in ten minutes A wanders by a variance of %v, at most %v is meant", got, walkDeg*walkDeg)
	}
	f.pass(1e9)
	for i := range terms {
		if math.Abs(f.mean[i]-prior.mean[i]) > 1e-6 || math.Abs(f.cov[i][i]-prior.cov[i][i]) > 1e-6 {
			t.Errorf("term %d: %v ± %v, the prior is %v ± %v", i, f.mean[i], f.cov[i][i], prior.mean[i], prior.cov[i][i])
		}
	}
}
