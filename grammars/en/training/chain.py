"""Owns lattice-free MMI: how likely the right phones are against how likely any phones are, with exact gradients.

`numerator` sums over all alignments of one known phone string whose silences may be left out; `denominator` over all phone
strings under a phone bigram. One state a phone: a first-frame output, then a self-loop output, each followed with
probability one half. On a GPU both are CUDA kernels (one block an utterance); on a CPU plain and slow, the reference that
`python chain.py` checks the kernels against.
"""

import functools

import torch
import torch.nn.functional as F

from network import HALF
from vocabulary import PHONES

LOWEST = -1e30

SOURCE = r"""
#include <torch/extension.h>
#define HALF -0.69314718f
#define LOWEST -1e30f
__device__ inline float add(float a, float b) {
  float top = fmaxf(a, b);
  return top < -1e29f ? LOWEST : top + log1pf(expf(fminf(a, b) - top));
}
// One thread a position of the phone string. first/loop: scores of being at a position in its first / a later frame.
__global__ void numerator_kernel(const float* score, const long* phone, const bool* optional, const long* length,
                                 float* first_all, float* loop_all, float* total, float* grad, int T, int N, int S) {
  extern __shared__ float line[];  // N + 4 values, shifted by two so that neighbours need no bounds check
  __shared__ float z;
  int b = blockIdx.x, i = threadIdx.x, n = length[b];
  bool on = i < n;
  score += (long)b * T * S; grad += (long)b * T * S;
  first_all += (long)b * T * N; loop_all += (long)b * T * N;
  phone += b * N; optional += b * N;
  int p = on ? phone[i] : 0;
  bool jump_in = on && i >= 2 && optional[i - 1];
  float first = LOWEST, loop = LOWEST;
  if (on && (i == 0 || (i == 1 && optional[0]))) first = score[2 * p];
  if (i < N) { first_all[i] = first; loop_all[i] = loop; }
  if (i < 2) line[i] = LOWEST;
  for (int t = 1; t < T; t++) {
    float here = add(first, loop) + HALF;
    if (i < N) line[i + 2] = on ? here : LOWEST;
    __syncthreads();
    float one = on ? line[i + 1] : LOWEST, two = jump_in ? line[i] : LOWEST;
    __syncthreads();
    first = on ? add(one, two) + score[t * S + 2 * p] : LOWEST;
    loop = on ? here + score[t * S + 2 * p + 1] : LOWEST;
    if (first < -1e29f) first = LOWEST;
    if (loop < -1e29f) loop = LOWEST;
    if (i < N) { first_all[t * N + i] = first; loop_all[t * N + i] = loop; }
  }
  if (i < N) line[i + 2] = on ? add(first, loop) + HALF : LOWEST;
  __syncthreads();
  if (i == 0) { z = add(line[n + 1], n > 1 && optional[n - 1] ? line[n] : LOWEST); total[b] = z; }
  __syncthreads();
  if (z < -1e20f) return;  // the sound is too short for its words
  float after = on && (i == n - 1 || (i == n - 2 && optional[n - 1])) ? HALF : LOWEST;
  bool jump_out = on && i + 2 < n && optional[i + 1];
  int p1 = i + 1 < n ? phone[i + 1] : 0, p2 = i + 2 < n ? phone[i + 2] : 0;
  for (int t = T - 1; t >= 0; t--) {
    if (on) {
      float a = first_all[t * N + i] + after - z, c = loop_all[t * N + i] + after - z;
      if (a > -40.f) atomicAdd(grad + t * S + 2 * p, expf(a));
      if (c > -40.f) atomicAdd(grad + t * S + 2 * p + 1, expf(c));
    }
    if (t == 0) break;
    __syncthreads();
    if (i < N) line[i] = after;
    __syncthreads();
    float v = on ? after + score[t * S + 2 * p + 1] : LOWEST;
    if (on && i + 1 < n) v = add(v, line[i + 1] + score[t * S + 2 * p1]);
    if (jump_out) v = add(v, line[i + 2] + score[t * S + 2 * p2]);
    after = on ? v + HALF : LOWEST;
    if (after < -1e29f) after = LOWEST;
  }
}
// One thread an output. likely: exp(score - its frame's largest); the transition matrix lies in shared memory.
__global__ void denominator_kernel(const float* likely, const float* move, const float* start, float* alpha, float* scale,
                                   float* grad, int T, int S) {
  extern __shared__ float shared[];
  float *a = shared + S * S, *y = a + S;
  __shared__ float part[8];
  int b = blockIdx.x, j = threadIdx.x;
  likely += (long)b * T * S; alpha += (long)b * T * S; grad += (long)b * T * S; scale += b * T;
  for (int k = j; k < S * S; k += blockDim.x) shared[k] = move[k];
  bool on = j < S;
  float v = on ? start[j] * likely[j] : 0;
  for (int t = 0; t < T; t++) {
    if (t) {
      v = 0;
      if (on) { for (int i = 0; i < S; i++) v += a[i] * shared[i * S + j]; v *= likely[t * S + j]; }
    }
    float sum = v;
    for (int o = 16; o; o >>= 1) sum += __shfl_xor_sync(~0u, sum, o);
    __syncthreads();
    if ((j & 31) == 0) part[j >> 5] = sum;
    __syncthreads();
    float all = 0;
    for (int k = 0; k < blockDim.x / 32; k++) all += part[k];
    all = fmaxf(all, 1e-35f);
    v /= all;
    if (on) { a[j] = v; alpha[t * S + j] = v; }
    if (j == 0) scale[t] = all;
    __syncthreads();
  }
  float after = 1;
  for (int t = T - 1; t >= 0; t--) {
    if (on) grad[t * S + j] = fminf(alpha[t * S + j] * after, 1.f);
    if (t == 0) break;
    __syncthreads();
    if (on) y[j] = after * likely[t * S + j];
    __syncthreads();
    float w = 0;
    if (on) for (int k = 0; k < S; k++) w += shared[j * S + k] * y[k];
    after = fminf(w / scale[t], 1e30f);
  }
}
std::vector<torch::Tensor> numerator(torch::Tensor e, torch::Tensor phone, torch::Tensor optional, torch::Tensor length) {
  int B = e.size(0), T = e.size(1), S = e.size(2), N = phone.size(1), threads = (N + 31) / 32 * 32;
  TORCH_CHECK(threads <= 1024, "more than 1024 phones in one utterance");
  auto first = torch::empty({B, T, N}, e.options()), loop = torch::empty({B, T, N}, e.options());
  auto total = torch::empty({B}, e.options()), grad = torch::zeros_like(e);
  numerator_kernel<<<B, threads, (N + 4) * 4>>>(e.data_ptr<float>(), phone.data_ptr<long>(), optional.data_ptr<bool>(),
    length.data_ptr<long>(), first.data_ptr<float>(), loop.data_ptr<float>(), total.data_ptr<float>(), grad.data_ptr<float>(), T, N, S);
  return {total, grad};
}
std::vector<torch::Tensor> denominator(torch::Tensor x, torch::Tensor move, torch::Tensor start) {
  int B = x.size(0), T = x.size(1), S = x.size(2), threads = (S + 31) / 32 * 32;
  auto alpha = torch::empty_like(x), scale = torch::empty({B, T}, x.options()), grad = torch::empty_like(x);
  denominator_kernel<<<B, threads, (S * S + 2 * S) * 4>>>(x.data_ptr<float>(), move.data_ptr<float>(), start.data_ptr<float>(),
    alpha.data_ptr<float>(), scale.data_ptr<float>(), grad.data_ptr<float>(), T, S);
  return {scale, grad};
}
"""
HEADER = (
    "std::vector<torch::Tensor> numerator(torch::Tensor, torch::Tensor, torch::Tensor, torch::Tensor);"
    "std::vector<torch::Tensor> denominator(torch::Tensor, torch::Tensor, torch::Tensor);"
)


@functools.cache
def _kernels():
    from torch.utils.cpp_extension import load_inline

    return load_inline("chain_kernels", cpp_sources=HEADER, cuda_sources=SOURCE, functions=["numerator", "denominator"])


class _Numerator(torch.autograd.Function):
    @staticmethod
    def forward(ctx, e, phone, optional, length):
        total, grad = _kernels().numerator(e.contiguous(), phone, optional, length)
        ctx.save_for_backward(grad)
        return total

    @staticmethod
    def backward(ctx, d):
        return d[:, None, None] * ctx.saved_tensors[0], None, None, None


class _Denominator(torch.autograd.Function):
    @staticmethod
    def forward(ctx, e, move, start):
        top = e.max(2, keepdim=True).values
        # Below e^-60 of the frame's best a sum in single precision would underflow.
        scale, grad = _kernels().denominator((e - top).clamp_min(-60.0).exp().contiguous(), move, start)
        ctx.save_for_backward(grad)
        return scale.log().sum(1) + top.sum((1, 2))

    @staticmethod
    def backward(ctx, d):
        return d[:, None, None] * ctx.saved_tensors[0], None, None


def numerator(e, phone, optional, length):
    """Log likelihood (B,) of scores e (B, T, outputs) for phone strings (B, N); below -1e20 where T is too short."""
    return _Numerator.apply(e, phone, optional, length) if e.is_cuda else _numerator_plain(e, phone, optional, length)


def denominator(e, move, start):
    """Log likelihood (B,) of the scores for any phone string."""
    return _Denominator.apply(e, move, start) if e.is_cuda else _denominator_plain(e, move, start)


def _numerator_plain(e, phone, optional, length):
    B, T, _ = e.shape
    N = phone.shape[1]
    begin = e.gather(2, (2 * phone)[:, None].expand(-1, T, -1))
    stay = e.gather(2, (2 * phone + 1)[:, None].expand(-1, T, -1))
    none = torch.full((B, N), LOWEST, device=e.device)
    at = torch.arange(N, device=e.device)[None]
    first = torch.where((at == 0) | ((at == 1) & optional[:, :1]), begin[:, 0], none)
    first = torch.where(at < length[:, None], first, none)
    loop = none
    jump = F.pad(optional, (2, 0))[:, 1 : N + 1] & (at >= 2)
    for t in range(1, T):
        here = torch.logaddexp(first, loop) + HALF
        one = F.pad(here, (1, 0), value=LOWEST)[:, :N]
        two = torch.where(jump, F.pad(here, (2, 0), value=LOWEST)[:, :N], none)
        first, loop = torch.logaddexp(one, two) + begin[:, t], here + stay[:, t]
    end = torch.logaddexp(first, loop) + HALF
    last = end.gather(1, (length - 1)[:, None])[:, 0]
    before = end.gather(1, (length - 2).clamp_min(0)[:, None])[:, 0]
    may = optional.gather(1, (length - 1)[:, None])[:, 0] & (length > 1)
    return torch.where(may, torch.logaddexp(last, before), last)


def _denominator_plain(e, move, start):
    top = e.max(2, keepdim=True).values
    likely = (e - top).clamp_min(-60.0).exp()
    a = start * likely[:, 0]
    logs = []
    for t in range(e.shape[1]):
        if t:
            a = (a @ move) * likely[:, t]
        total = a.sum(1, keepdim=True)
        logs.append(total.log())
        a = a / total
    return torch.cat(logs, 1).sum(1) + top.sum((1, 2))


def any_phones(bigram, device):
    """Transition matrix and start of the denominator from a bigram: row 0 start, row p+1 after phone p, last column end."""
    n = len(PHONES)
    move = torch.full((2 * n, 2 * n), 0.0)
    for p in range(n):
        for state in (2 * p, 2 * p + 1):
            move[state, 0::2] = 0.5 * bigram[p + 1, :n]
            move[state, 2 * p + 1] = 0.5
    start = torch.zeros(2 * n)
    start[0::2] = bigram[0, :n]
    return move.to(device).contiguous(), start.to(device).contiguous()


def strings(utterances, device):
    """Phone strings with a silence that may be left out around every word: phones, optional, lengths."""
    rows = []
    for words in utterances:
        phone, optional = [0], [True]
        for word in words:
            phone += [*word, 0]
            optional += [False] * len(word) + [True]
        rows.append((phone, optional))
    N = max(len(p) for p, _ in rows)
    phone = torch.zeros(len(rows), N, dtype=torch.long)
    optional = torch.zeros(len(rows), N, dtype=torch.bool)
    for i, (p, o) in enumerate(rows):
        phone[i, : len(p)] = torch.tensor(p)
        optional[i, : len(o)] = torch.tensor(o)
    return phone.to(device), optional.to(device), torch.tensor([len(p) for p, _ in rows], device=device)


def check():
    """Compares kernels and reference on random scores; needs a GPU."""
    torch.manual_seed(3)
    n = len(PHONES)
    words = [[[5, 6, 7], [8, 9]], [], [[3, 3, 4]], [[int(k) for k in torch.randint(1, n, (12,))]]]
    phone, optional, length = strings(words, "cuda")
    e = torch.randn(4, 60, 2 * n, device="cuda") * 3
    bigram = torch.rand(n + 1, n + 1)
    move, start = any_phones(bigram / bigram.sum(1, keepdim=True), "cuda")
    pairs = [
        (lambda x: _Numerator.apply(x, phone, optional, length), lambda x: _numerator_plain(x, phone, optional, length)),
        (lambda x: _Denominator.apply(x, move, start), lambda x: _denominator_plain(x, move, start)),
    ]
    for fast, plain in pairs:
        results = []
        for f, kind in ((fast, torch.float32), (plain, torch.float64)):
            x = e.clone().to(kind).requires_grad_()
            if f is plain and kind == torch.float64:
                move, start = move.double(), start.double()
            value = f(x)
            value.sum().backward()
            results.append((value.detach().double(), x.grad.double()))
            move, start = move.float(), start.float()
        (v0, g0), (v1, g1) = results
        print("value %.2e gradient %.2e" % ((v0 - v1).norm() / v1.norm(), (g0 - g1).norm() / g1.norm()))
        assert (v0 - v1).norm() < 1e-4 * v1.norm() and (g0 - g1).norm() < 1e-3 * g1.norm()


if __name__ == "__main__":
    check()
