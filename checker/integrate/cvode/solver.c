//go:build cvode

#include "solver.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunlinsol/sunlinsol_klu.h>
#include <sunmatrix/sunmatrix_dense.h>
#include <sunmatrix/sunmatrix_sparse.h>

#include "_cgo_export.h"

struct problem {
	setup s;
	int64_t *start, *row;
	double *relative, *absolute, *values;
	SUNContext context;
	void *cvode;
	N_Vector y, slope; // y: the state between calls
	SUNMatrix matrix;
	SUNLinearSolver linear;
	counts made;
};

static void *copied(const void *from, size_t bytes) {
	void *to = malloc(bytes > 0 ? bytes : 1);
	if (to != NULL && bytes > 0) memcpy(to, from, bytes);
	return to;
}

// allFinite tells whether all values are. Non-finite ones have all bits of the
// exponent set, and survive a product with zero.
static int allFinite(const double *v, int64_t n) {
	double a = 0, b = 0, c = 0, d = 0;
	int64_t i = 0;
	for (; i + 4 <= n; i += 4) {
		a += 0 * v[i];
		b += 0 * v[i + 1];
		c += 0 * v[i + 2];
		d += 0 * v[i + 3];
	}
	for (; i < n; i++) a += 0 * v[i];
	return (a + b) + (c + d) == 0;
}

// right is f. A value that is not finite asks for a shorter step.
static int right(realtype t, N_Vector y, N_Vector dy, void *data) {
	problem *p = data;
	double *rates = N_VGetArrayPointer_Serial(dy);
	p->made.evaluations++;
	goEvaluate(p->s.handle, t, N_VGetArrayPointer_Serial(y), rates);
	return !allFinite(rates, p->s.size);
}

// KLU finds the order of elimination once, as ours does, and seeks pivots by value at
// each new Jacobian. Left to itself it keeps the first pivots for as long as a cheap
// estimate of the condition allows, with which Newton's iteration fails on circuits;
// and it orders anew at each start.
enum { REFACTOR, ANALYSE, PIVOT };
#define KLU(s) ((SUNLinearSolverContent_KLU)(s)->content)

static int (*refactor)(SUNLinearSolver, SUNMatrix);

static int analysed(SUNLinearSolver s) {
	KLU(s)->first_factorize = KLU(s)->symbolic != NULL ? PIVOT : ANALYSE;
	return 0;
}

static int factor(SUNLinearSolver s, SUNMatrix m) {
	SUNLinearSolverContent_KLU k = KLU(s);
	if (k->first_factorize != PIVOT) return refactor(s, m);
	if (k->numeric != NULL) sun_klu_free_numeric(&k->numeric, &k->common);
	k->numeric = sun_klu_factor(SM_INDEXPTRS_S(m), SM_INDEXVALS_S(m), SM_DATA_S(m), k->symbolic, &k->common);
	k->first_factorize = REFACTOR;
	k->last_flag = k->numeric != NULL ? SUNLS_SUCCESS : SUNLS_LUFACT_FAIL;
	return k->last_flag;
}

// jacobian fills the matrix, whose indices CVODE has cleared.
static int jacobian(realtype t, N_Vector y, N_Vector fy, SUNMatrix m, void *data, N_Vector a, N_Vector b, N_Vector c) {
	problem *p = data;
	p->made.jacobians++;
	if (!p->s.dense) {
		memcpy(SM_INDEXPTRS_S(m), p->start, (p->s.size + 1) * sizeof *p->start);
		memcpy(SM_INDEXVALS_S(m), p->row, p->s.entries * sizeof *p->row);
		goJacobian(p->s.handle, t, N_VGetArrayPointer_Serial(y), SM_DATA_S(m));
		if (!getenv("PLAIN")) analysed(p->linear);
		return !allFinite(SM_DATA_S(m), p->s.entries);
	}
	goJacobian(p->s.handle, t, N_VGetArrayPointer_Serial(y), p->values);
	for (int64_t j = 0; j < p->s.size; j++) {
		double *column = SM_COLUMN_D(m, j);
		for (int64_t k = p->start[j]; k < p->start[j + 1]; k++) column[p->row[k]] = p->values[k];
	}
	return !allFinite(p->values, p->s.entries);
}

static int events(realtype t, N_Vector y, realtype *values, void *data) {
	problem *p = data;
	p->made.roots++;
	goRoots(p->s.handle, t, N_VGetArrayPointer_Serial(y), values);
	return 0;
}

// weights are the inverse tolerances of each component by itself.
static int weights(N_Vector y, N_Vector w, void *data) {
	problem *p = data;
	const double *v = N_VGetArrayPointer_Serial(y);
	double *inverse = N_VGetArrayPointer_Serial(w);
	for (int64_t i = 0; i < p->s.size; i++) inverse[i] = 1 / (p->relative[i] * fabs(v[i]) + p->absolute[i]);
	return 0;
}

static void silent(int code, const char *module, const char *function, char *message, void *data) {}

static int linear(problem *p) {
	int64_t n = p->s.size;
	if (p->s.dense) {
		p->matrix = SUNDenseMatrix(n, n, p->context);
		p->linear = SUNLinSol_Dense(p->y, p->matrix, p->context);
	} else {
		p->matrix = SUNSparseMatrix(n, n, p->s.entries, CSC_MAT, p->context);
		if (p->matrix == NULL) return 1;
		memcpy(SM_INDEXPTRS_S(p->matrix), p->start, (n + 1) * sizeof *p->start);
		memcpy(SM_INDEXVALS_S(p->matrix), p->row, p->s.entries * sizeof *p->row);
		p->linear = SUNLinSol_KLU(p->y, p->matrix, p->context);
		if (p->linear == NULL || SUNLinSol_KLUSetOrdering(p->linear, p->s.ordering) != 0) return 1;
		if (!getenv("PLAIN")) {
		refactor = p->linear->ops->setup;
		p->linear->ops->setup = factor;
		p->linear->ops->initialize = analysed;
		}
	}
	return p->linear == NULL || CVodeSetLinearSolver(p->cvode, p->linear, p->matrix) != 0 ||
	       CVodeSetJacFn(p->cvode, jacobian) != 0;
}

static int prepare(problem *p) {
	int64_t n = p->s.size;
	if (SUNContext_Create(NULL, &p->context) != 0) return 1;
	p->y = N_VNew_Serial(n, p->context);
	p->slope = N_VNew_Serial(n, p->context);
	p->cvode = CVodeCreate(CV_BDF, p->context);
	if (p->y == NULL || p->slope == NULL || p->cvode == NULL) return 1;
	N_VConst(1, p->y);
	return CVodeSetErrHandlerFn(p->cvode, silent, NULL) != 0 || CVodeInit(p->cvode, right, 0, p->y) != 0 ||
	       CVodeSetUserData(p->cvode, p) != 0 || CVodeWFtolerances(p->cvode, weights) != 0 || linear(p) ||
	       CVodeSetMaxOrd(p->cvode, p->s.order) != 0 || CVodeSetMaxNumSteps(p->cvode, 1000000) != 0 ||
	       (p->s.largest > 0 && CVodeSetMaxStep(p->cvode, p->s.largest) != 0) ||
	       (p->s.roots > 0 && (CVodeRootInit(p->cvode, p->s.roots, events) != 0 ||
	                           CVodeSetRootDirection(p->cvode, (int *)p->s.directions) != 0));
}

problem *problem_new(const setup *s) {
	problem *p = calloc(1, sizeof *p);
	if (p == NULL) return NULL;
	p->s = *s;
	size_t n = s->size;
	p->start = copied(s->start, (n + 1) * sizeof *s->start);
	p->row = copied(s->row, s->entries * sizeof *s->row);
	p->relative = copied(s->relative, n * sizeof(double));
	p->absolute = copied(s->absolute, n * sizeof(double));
	p->values = calloc(s->entries, sizeof(double));
	if (p->start == NULL || p->row == NULL || p->relative == NULL || p->absolute == NULL || p->values == NULL || prepare(p)) {
		problem_free(p);
		return NULL;
	}
	return p;
}

void problem_free(problem *p) {
	if (p->cvode != NULL) CVodeFree(&p->cvode);
	if (p->linear != NULL) SUNLinSolFree(p->linear);
	if (p->matrix != NULL) SUNMatDestroy(p->matrix);
	if (p->y != NULL) N_VDestroy(p->y);
	if (p->slope != NULL) N_VDestroy(p->slope);
	if (p->context != NULL) SUNContext_Free(&p->context);
	free(p->start);
	free(p->row);
	free(p->relative);
	free(p->absolute);
	free(p->values);
	free(p);
}

double *problem_state(problem *p) { return N_VGetArrayPointer_Serial(p->y); }

// collect adds up what CVODE has counted since the last start.
static void collect(problem *p) {
	long n = 0;
	if (p->made.starts == 0) return;
	CVodeGetNumSteps(p->cvode, &n);
	p->made.steps += n;
	CVodeGetNumErrTestFails(p->cvode, &n);
	p->made.inaccurate += n;
	CVodeGetNumStepSolveFails(p->cvode, &n);
	p->made.unconverged += n;
	CVodeGetNumLinSolvSetups(p->cvode, &n);
	p->made.factorisations += n;
	CVodeGetNumNonlinSolvIters(p->cvode, &n);
	p->made.iterations += n;
}

// problem_start begins afresh from t and the state.
int problem_start(problem *p, double t) {
	collect(p);
	p->made.starts++;
	return CVodeReInit(p->cvode, t, p->y);
}

// problem_advance goes to a time, stepping no further than stop, or to a root.
int problem_advance(problem *p, double to, double stop, double *t) {
	int flag = CVodeSetStopTime(p->cvode, stop);
	return flag != 0 ? flag : CVode(p->cvode, to, p->y, t, CV_NORMAL);
}

int problem_roots(problem *p, int *found) { return CVodeGetRootInfo(p->cvode, found); }

int problem_slope(problem *p, double t, double *dy) {
	int flag = right(t, p->y, p->slope, p);
	memcpy(dy, N_VGetArrayPointer_Serial(p->slope), p->s.size * sizeof *dy);
	return flag;
}

// problem_counts tells what was done since the last call.
void problem_counts(problem *p, counts *c) {
	collect(p);
	*c = p->made;
	memset(&p->made, 0, sizeof p->made);
}

const char *problem_flag(int flag) { return CVodeGetReturnFlagName(flag); }

// thread_seconds is the processor time of the calling thread.
double thread_seconds(void) {
	struct timespec now;
	clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
	return now.tv_sec + 1e-9 * now.tv_nsec;
}

// problem_evaluate calls f as CVODE does, many times.
int problem_evaluate(problem *p, double t, long times) {
	int odd = 0;
	for (; times > 0; times--) odd |= right(t, p->y, p->slope, p);
	p->made.evaluations = 0;
	return odd;
}
