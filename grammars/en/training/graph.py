"""Owns running an ONNX graph of a synthetic voice with torch, so that a GPU speaks many times faster than a core.

Only the operators that the graph of Kokoro-82M has are known; another one is refused by name. Each of its nodes gives what
onnxruntime's does, but for the LSTMs, whose inputs are not rounded to 8 bits here: lengths and hiss of the sound differ a
little (`python graph.py FOLDER` says how much). Whole numbers (shapes, counts) stay on the CPU: a graph that asks for a
shape need not wait for the GPU.
"""

import json
import pathlib
import sys

import numpy as np
import onnx
import torch
import torch.nn.functional as F

KINDS = {1: torch.float32, 6: torch.float32, 7: torch.int64, 9: torch.bool}  # 32-bit sums of quantised layers are floats here
# Operators that torch has as they are, of one and of two inputs.
ONE = {
    "Sqrt": torch.sqrt,
    "Sin": torch.sin,
    "Cos": torch.cos,
    "Exp": torch.exp,
    "Tanh": torch.tanh,
    "Sigmoid": torch.sigmoid,
    "Floor": torch.floor,
    "Round": torch.round,
}
TWO = {
    "Add": torch.add,
    "Sub": torch.sub,
    "Mul": torch.mul,
    "Div": lambda a, b: torch.div(a, b, rounding_mode=None if a.is_floating_point() else "trunc"),
    "Pow": torch.pow,
    "Equal": torch.eq,
    "Greater": torch.gt,
    "GreaterOrEqual": torch.ge,
    "Less": torch.lt,
    "And": torch.logical_and,
    "MatMul": torch.matmul,
}


class Graph:
    """`Graph(path, device)({"tokens": ..., ...})` -> the first output as an array."""

    def __init__(self, path, device):
        torch.backends.cudnn.allow_tf32 = False
        graph = onnx.load(str(path)).graph
        self.device, self.fixed, self.lstms = device, {"": None}, {}
        for t in graph.initializer:
            value = torch.from_numpy(np.array(onnx.numpy_helper.to_array(t)))
            if value.dtype in (torch.int8, torch.uint8):
                value = value.float()
            self.fixed[t.name] = value.to(device) if value.is_floating_point() else value.long() if value.dtype == torch.int32 else value
        self.nodes, last = [], {}
        for k, node in enumerate(graph.node):
            attributes = {}
            for a in node.attribute:
                v = onnx.helper.get_attribute_value(a)
                attributes[a.name] = onnx.numpy_helper.to_array(v) if isinstance(v, onnx.TensorProto) else v.decode() if isinstance(v, bytes) else v
            self.nodes.append((self._operator(node), attributes, list(node.input), list(node.output)))
            last.update({name: k for name in node.input})
        self.output = graph.output[0].name
        self.done = [[] for _ in self.nodes]  # what no later node needs
        for name, k in last.items():
            if name not in self.fixed and name != self.output:
                self.done[k].append(name)

    def _operator(self, node):
        kind = node.op_type
        if kind in ONE:
            return ONE[kind]
        if kind in TWO:
            return lambda a, b: TWO[kind](*self._pair(a, b))
        if not hasattr(self, "_" + kind):
            raise NotImplementedError(f"operator {kind} (node {node.name})")
        return getattr(self, "_" + kind)

    @torch.no_grad()
    def __call__(self, feed):
        at = dict(self.fixed)
        for name, value in feed.items():
            value = torch.from_numpy(value)
            at[name] = value.to(self.device) if value.is_floating_point() else value
        for (run, attributes, inputs, outputs), done in zip(self.nodes, self.done):
            result = run(*[at[n] for n in inputs], **attributes)
            at.update(zip(outputs, result if isinstance(result, tuple) else (result,)))
            for n in done:
                at.pop(n, None)
        return at[self.output].cpu().numpy()

    def _pair(self, a, b):
        """Both on the GPU where one is; single numbers may stay."""
        if a.device != b.device:
            a, b = (a if a.dim() == 0 and not b.is_cpu else a.to(self.device)), (b if b.dim() == 0 and not a.is_cpu else b.to(self.device))
        return a, b

    # ---- element by element, those that are not in ONE and TWO
    def _Where(self, c, a, b):
        a, b = self._pair(a, b)
        return torch.where(c.to(a.device if a.dim() else b.device), a, b)

    def _Atan(self, x):
        return x.atan().nan_to_num_()  # the phase of nothing, 0/0, is as good as any

    def _Clip(self, x, low=None, high=None):
        return x.clamp(low, high)

    def _LeakyRelu(self, x, alpha):
        return F.leaky_relu(x, alpha)

    def _FastGelu(self, x, bias):
        return F.gelu(x + bias, approximate="tanh")

    def _Softmax(self, x, axis):
        return x.softmax(axis)

    def _Cast(self, x, to, saturate=1):
        return x.to(KINDS[to])

    # ---- sums and norms
    def _ReduceMean(self, x, axes, keepdims, noop_with_empty_axes=0):
        return x.mean(axes.tolist(), keepdim=bool(keepdims))

    def _ReduceSum(self, x, axes, keepdims, noop_with_empty_axes=0):
        return x.sum(axes.tolist(), keepdim=bool(keepdims))

    def _CumSum(self, x, axis, reverse, exclusive):
        return x.cumsum(int(axis))

    def _LayerNormalization(self, x, scale, bias, axis, epsilon, stash_type):
        return F.layer_norm(x, x.shape[-1:], scale, bias, epsilon)

    def _SkipLayerNormalization(self, x, skip, scale, bias, epsilon):
        return F.layer_norm(x + skip, x.shape[-1:], scale, bias, epsilon)

    def _FusedMatMul(self, a, b, alpha, transA, transB, transBatchA, transBatchB):
        a, b = self._pair(a, b)
        return alpha * (a.transpose(-1, -2) if transA else a) @ (b.transpose(-1, -2) if transB else b)

    # ---- quantised layers
    def _DynamicQuantizeLinear(self, x):
        low, high = x.min().clamp(max=0), x.max().clamp(min=0)
        scale = (high - low) / 255
        zero = (-low / scale).round()
        return ((x / scale).round() + zero).clamp(0, 255), scale, zero

    def _DequantizeLinear(self, x, scale, zero):
        return (x - zero) * scale

    def _MatMulInteger(self, a, b, a_zero, b_zero):
        return (a - a_zero) @ (b - b_zero)

    def _ConvInteger(self, x, w, x_zero, w_zero, **attributes):
        return self._Conv(x - x_zero, w - w_zero, None, **attributes)

    def _DynamicQuantizeLSTM(self, x, w, r, bias, lengths, h, c, p, w_scale, w_zero, r_scale, r_zero, direction, hidden_size, input_forget):
        if id(w) not in self.lstms:
            lstm = torch.nn.LSTM(x.shape[-1], hidden_size, bidirectional=direction == "bidirectional").to(self.device)
            order = np.r_[0:1, 2:3, 3:4, 1:2]  # gates: input, output, forget, cell -> input, forget, cell, output
            sort = lambda v: v.reshape(4, hidden_size, -1)[order].reshape(4 * hidden_size, -1)
            for k, end in enumerate(["", "_reverse"][: len(w)]):
                put = lambda name, v: getattr(lstm, name + "_l0" + end).data.copy_(v)
                put("weight_ih", sort(((w[k] - w_zero[k]) * w_scale[k]).T))
                put("weight_hh", sort(((r[k] - r_zero[k]) * r_scale[k]).T))
                put("bias_ih", sort(bias[k, : 4 * hidden_size])[:, 0])
                put("bias_hh", sort(bias[k, 4 * hidden_size :])[:, 0])
            self.lstms[id(w)] = lstm
        y, _ = self.lstms[id(w)](x, (h.to(self.device), c.to(self.device)))
        return y.reshape(*y.shape[:2], -1, hidden_size).transpose(1, 2)

    # ---- along time
    def _Conv(self, x, w, bias, kernel_shape, strides, pads, dilations, group, auto_pad):
        assert pads[0] == pads[1] and len(pads) == 2
        return F.conv1d(x, w, bias, strides, pads[0], dilations, group)

    def _ConvTranspose(self, x, w, bias=None, kernel_shape=None, strides=None, pads=None, dilations=None, group=1, auto_pad="", output_padding=(0,)):
        assert pads[0] == pads[1] and len(pads) == 2
        return F.conv_transpose1d(x, w, bias, strides, pads[0], output_padding, group, dilations)

    def _Resize(self, x, region, scales, mode, coordinate_transformation_mode, **rest):
        scale = float(scales[-1])
        if mode == "nearest":
            return F.interpolate(x, scale_factor=scale, mode="nearest")
        return F.interpolate(x, scale_factor=scale, mode="linear", align_corners=False, recompute_scale_factor=False)

    def _STFT(self, x, step, window, length, onesided):
        n = int(length)
        frames = x.reshape(x.shape[0], -1).unfold(-1, n, int(step)) * window
        return torch.view_as_real(torch.fft.rfft(frames, n))

    def _Pad(self, x, pads, mode):
        n = x.dim()
        assert all(p == 0 for k, p in enumerate(pads.tolist()) if k % n != n - 1)
        return F.pad(x, (int(pads[n - 1]), int(pads[-1])), mode)

    # ---- shapes
    def _Shape(self, x, start=0, end=None):
        return torch.tensor(x.shape[start:end])

    def _Reshape(self, x, shape, allowzero=0):
        return x.reshape([x.shape[k] if n == 0 else n for k, n in enumerate(shape.tolist())])

    def _Unsqueeze(self, x, axes):
        for k in sorted(axes.tolist()):
            x = x.unsqueeze(k)
        return x

    def _Squeeze(self, x, axes):
        return x.squeeze(axes.tolist())

    def _Transpose(self, x, perm):
        return x.permute(perm)

    def _Concat(self, *parts, axis):
        if any(not p.is_cpu for p in parts):
            parts = [p.to(self.device) for p in parts]
        return torch.cat(parts, axis)

    def _Split(self, x, sizes, axis):
        return tuple(x.split(sizes.tolist(), axis))

    def _Slice(self, x, starts, ends, axes=None, steps=None):
        axes = range(len(starts)) if axes is None else axes.tolist()
        steps = [1] * len(starts) if steps is None else steps.tolist()
        for begin, end, axis, step in zip(starts.tolist(), ends.tolist(), axes, steps):
            if step < 1:
                raise NotImplementedError("a slice that goes backwards")
            x = x[(slice(None),) * (axis % x.dim()) + (slice(begin, end, step),)]
        return x

    def _Gather(self, x, at, axis):
        at = at.to(x.device)
        found = x.index_select(axis, (at % x.shape[axis]).reshape(-1))
        return found.reshape([*x.shape[:axis], *at.shape, *x.shape[axis + 1 :]])

    def _Expand(self, x, shape):
        return x * torch.ones(shape.tolist(), dtype=x.dtype, device=x.device)

    def _ConstantOfShape(self, shape, value):
        one = torch.from_numpy(np.array(value))
        full = torch.full(shape.tolist(), one.item(), dtype=one.dtype)
        return full.to(self.device) if full.is_floating_point() else full

    def _Range(self, begin, end, step):
        return torch.arange(int(begin), int(end), int(step))

    def _NonZero(self, x):
        return x.nonzero().T

    def _ScatterND(self, x, at, values, reduction):
        x = x.clone()
        x[tuple(at.to(x.device).unbind(-1))] = values.to(x.device)
        return x


def compare(folder):
    """Sound of the first rows here and by onnxruntime: how alike their spectra are, and how long each takes."""
    import time

    import voices

    device = "cuda" if torch.cuda.is_available() else "cpu"
    ours, theirs = Graph(folder / "kokoro.onnx", device), voices.speaker(folder / "kokoro.onnx", gpu=False)
    feed_of = voices.feeds(folder)
    for row in json.loads((folder / "rows.json").read_text())[:5]:
        feed = feed_of(row)
        sounds, seconds = [], []
        for speak in (ours, theirs):
            began = time.time()
            sounds.append(speak(feed).ravel())
            seconds.append(time.time() - began)
        n = min(map(len, sounds)) // 480 * 480
        a, b = (np.log(np.abs(np.fft.rfft(s[:n].reshape(-1, 480) * np.hanning(480))) + 1e-3).ravel() for s in sounds)
        print(*map(len, sounds), "spectra alike %.3f" % np.corrcoef(a, b)[0, 1], "seconds %.2f %.2f" % tuple(seconds), row["text"])


if __name__ == "__main__":
    compare(pathlib.Path(sys.argv[1]))
